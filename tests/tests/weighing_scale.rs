//! The scale as a whole, on made-up samples.

use yarn_scale_core::converter::{RawSample, SampleRate};
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
        let calibration = Calibration::straight(FineCounts(EMPTY * 16), PER_GRAM).expect("sound");
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
