//! The scale as a whole, on made-up samples.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::signal::Thresholds;
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::{Calibration, Condition, Scale, ScaleEvent};

/// Counts for a gram of a 500 g cell of 1 mV/V on this converter.
const PER_GRAM: f32 = 4_294.967;
const EMPTY: i32 = 120_000;

struct Bench {
    scale: Scale,
    now: u64,
    state: u32,
}

impl Bench {
    fn new() -> Self {
        Self::with_cell(PER_GRAM)
    }

    /// With a cell of so many counts for a gram.
    fn with_cell(per_gram: f32) -> Self {
        let calibration = Calibration::straight(FineCounts(EMPTY * 16), per_gram).expect("sound");
        Self {
            scale: Scale::new(calibration, Milligrams::from_grams(500), SampleRate::Ten, None),
            now: 0,
            state: 1,
        }
    }

    fn word(&mut self, word: i32) -> Option<ScaleEvent> {
        self.now += 100;
        self.scale.sample(Instant(self.now), Ok(RawSample(Counts(word))))
    }

    /// Rests `grams` on the pan with a triangular noise of some 25 counts.
    fn rest(&mut self, grams: f32, samples: usize) -> Vec<ScaleEvent> {
        let mut events = Vec::new();
        for _ in 0..samples {
            let mut noise = 0;
            for _ in 0..2 {
                self.state = self.state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                noise += (self.state >> 16) as i32 % 61 - 30;
            }
            let word = EMPTY + (grams * PER_GRAM) as i32 + noise;
            events.extend(self.word(word));
        }
        events
    }
}

#[test]
fn a_cake_put_on_and_taken_off_is_a_visit_and_an_emptying() {
    let mut bench = Bench::new();
    assert_eq!(bench.rest(0.0, 50), [ScaleEvent::Emptied]);
    let on = bench.rest(23.4, 50);
    let [ScaleEvent::Lifted, ScaleEvent::Settled(load)] = on.as_slice() else {
        panic!("{on:?}")
    };
    let gross = bench.scale.gross(load);
    assert!((gross.value.0 - 23_400).abs() < 20, "{gross:?}");
    let readout = bench.scale.readout();
    assert_eq!(readout.shown.expect("shown").to_string(), "23.4");
    assert!(readout.steady.is_some() && readout.zero_proven && !readout.empty);
    let off = bench.rest(0.0, 50);
    assert_eq!(off, [ScaleEvent::Lifted, ScaleEvent::Emptied]);
    assert!(bench.scale.amended(load).is_some());
}

#[test]
fn no_number_where_there_can_be_none() {
    let mut bench = Bench::new();
    bench.rest(0.0, 30);
    bench.rest(505.0, 30);
    assert_eq!(bench.scale.readout().condition, Condition::Overload);
    assert_eq!(bench.scale.readout().shown, None);
    bench.rest(-60.0, 30);
    assert_eq!(bench.scale.readout().condition, Condition::Underload);
    for _ in 0..30 {
        bench.word(0x7F_FFFF);
    }
    assert_eq!(bench.scale.readout().condition, Condition::Overload);
    assert_eq!(bench.scale.readout().net, None);
}

/// The converter's next words tell whether a word that does not fit was spoilt; until then there is no steady load to mark. One that was
/// spoilt leaves no trace: no load is lifted and none settles.
#[test]
fn a_word_that_does_not_fit_hides_the_load_until_the_next() {
    let mut bench = Bench::new();
    bench.rest(0.0, 50);
    bench.rest(23.4, 50);
    assert!(bench.scale.steady().is_some());
    assert_eq!(bench.rest(22.9, 1), []);
    assert_eq!(bench.scale.steady(), None);
    let readout = bench.scale.readout();
    assert_eq!(readout.steady, None);
    assert_eq!(readout.shown.expect("shown").to_string(), "23.4");
    assert_eq!(bench.rest(23.4, 1), []);
    assert!(bench.scale.steady().is_some());
}

/// At power-on an empty pan is known up to 0.1 % of the cell's rated load: a cell for 1 kg of 1 mV/V has half the counts for a gram,
/// and warming up moves its zero by twice the mass.
#[test]
fn the_first_zero_has_the_range_of_the_cell() {
    for (per_gram, grams, empty) in [
        (PER_GRAM, 0.45, true),
        (PER_GRAM, 0.8, false),
        (PER_GRAM / 2.0, 0.8, true),
        (PER_GRAM / 2.0, 1.2, false),
    ] {
        let mut bench = Bench::with_cell(per_gram);
        bench.rest(grams * per_gram / PER_GRAM, 50);
        let readout = bench.scale.readout();
        assert_eq!(
            readout.empty && readout.zero_proven,
            empty,
            "{grams} g at {per_gram} counts a gram"
        );
    }
}

/// A zero that has moved under the load by less than two divisions is led back so that neither the change just weighed nor the next one
/// is off by a division (the error of a number beside the tick, OIML R 76-1, 3.5.1: one division in service at small loads).
#[test]
fn a_moved_zero_is_shared_between_the_change_before_and_the_next() {
    for moved in [-0.17_f32, -0.14, 0.08, 0.1] {
        let mut bench = Bench::new();
        bench.rest(0.0, 50);
        bench.rest(250.0, 50);
        bench.rest(moved, 30);
        assert!(bench.scale.readout().empty, "{moved}");
        // Below zero only for some seconds: no number below zero is left standing.
        let (seconds, within) = if moved < 0.0 { (1, 110.0) } else { (8, 100.0) };
        for _ in 0..seconds {
            bench.rest(moved, 10);
            let net = bench.scale.readout().net.expect("a number").value.0 as f32;
            // What was weighed is moved, what the pan holds is nothing; five times the noise of the mean is 6 mg.
            assert!((net - 1_000.0 * moved).abs() < within, "{moved}: {net} mg");
        }
        bench.rest(moved, 60);
        let net = bench.scale.readout().net.expect("a number").value.0;
        assert!(net.abs() < 100, "{moved}: {net} mg are left for the next");
    }
}

/// Zero tracking follows an empty pan faster only while more ticks make its level surer, the first thirteen seconds. A unit whose noise is
/// found to be less and less says nothing new about the level: it is followed by what a cell of this age can do, 0.03 % of 500 g over its
/// minutes and 7.5 mg for the room, in a minute.
#[test]
fn a_noise_that_becomes_less_does_not_hasten_zero_tracking() {
    let mut bench = Bench::new();
    let mut state = 1_u32;
    let mut farthest = 0.0_f32;
    for tick in 0..1_200_u16 {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let spread = if tick < 400 { 801 } else { 401 };
        let before = bench.scale.zero_point().level.0;
        bench.word(EMPTY + (state >> 16) as i32 % spread - spread / 2);
        if tick > 300 {
            assert!(bench.scale.is_empty(), "{tick}");
            let moved = (bench.scale.zero_point().level.0 - before).abs() as f32 / 16.0 / PER_GRAM * 1_000.0;
            let minutes = f32::from(tick) / 600.0;
            farthest = farthest.max(moved / ((150.0 / minutes + 7.5) / 600.0));
        }
    }
    assert!((0.5..1.05).contains(&farthest), "{farthest} of what a cell can do");
}

/// A load goes on while its mean takes in every further tick. A touch ends that, and so does the time after which old ticks are dropped:
/// what is weighed then may be another load.
#[test]
fn a_load_goes_on_until_it_is_touched_or_its_ticks_are_dropped() {
    let mut bench = Bench::new();
    bench.rest(0.0, 50);
    bench.rest(23.4, 16);
    let first = bench.scale.steady().expect("steady");
    assert!(!first.goes_on_from(&first), "nothing new");
    bench.rest(23.4, 90);
    let later = bench.scale.steady().expect("steady");
    assert!(later.goes_on_from(&first) && later.se() < 0.5 * first.se());
    bench.rest(23.4, 100);
    let late = bench.scale.steady().expect("steady");
    assert!(!late.goes_on_from(&first) && !late.goes_on_from(&later), "{late:?}");
    bench.rest(28.0, 5);
    bench.rest(23.4, 100);
    let touched = bench.scale.steady().expect("steady");
    for before in [first, later, late] {
        assert!(!touched.goes_on_from(&before), "{touched:?} from {before:?}");
    }
}

/// Asked to be surer than anything can make it, a scale trusts nothing; asked for what is usual again, it does.
#[test]
fn a_stricter_scale_waits() {
    let usual = Thresholds::usual(SampleRate::Ten);
    let never = Thresholds {
        acquire: 30_000,
        ..usual
    };
    let mut bench = Bench::new();
    bench.rest(0.0, 50);
    bench.scale.set_thresholds(never);
    assert_eq!(bench.rest(23.4, 100), [ScaleEvent::Lifted]);
    assert_eq!(bench.scale.steady(), None);
    bench.scale.set_thresholds(usual);
    assert!(matches!(bench.rest(23.4, 2)[..], [ScaleEvent::Settled(_)]));
}
