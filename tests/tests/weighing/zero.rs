//! When a level near zero is the empty pan, at the very limits: half a gram more or less decides whether a knitter's cake begins at nothing.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::signal::{Check, Estimator, SteadyLevel};
use yarn_scale_core::units::{Counts, FineCounts, Instant};
use yarn_scale_core::weighing::zero::Zero;
use yarn_scale_tests::cell::{Cell, PER_GRAM};

const CAPACITY: f32 = 500e3;

/// A level of this word that has settled on a bare estimator, `ticks` ticks after a jump to it that began at `start` ms.
fn steady(word: i32, start: u64, ticks: usize) -> SteadyLevel {
    let mut check = Check::new(SampleRate::Ten);
    let mut estimator = Estimator::new(SampleRate::Ten, 430.0);
    let mut found = None;
    for tick in 0..ticks.max(20) as u64 {
        let noisy = word + [9, -14, 25, -4, 0, -31, 15][tick as usize % 7];
        let sample = check
            .judge(Instant(start + 100 * tick), Ok(RawSample(Counts(noisy))))
            .expect("a sound word");
        found = estimator.take(sample).and_then(|reading| reading.steady).or(found);
    }
    found.expect("steady")
}

fn proven(start: u64) -> Zero {
    let mut zero = Zero::stored(FineCounts(0));
    zero.capture(steady(1_000, start, 20), 0.0);
    zero
}

/// The largest mass, to a milligram, that is still taken for the empty pan; `sign` says on which side of zero.
fn limit(sign: f32, accepts: impl Fn(f32) -> bool) -> f32 {
    assert!(accepts(0.0), "zero itself is refused");
    (1..5_000)
        .map(|mg| mg as f32)
        .take_while(|mg| accepts(sign * mg))
        .last()
        .unwrap_or(0.0)
}

fn at(found: f32, by_hand: f32, what: &str) {
    assert!(
        (found - by_hand).abs() <= 1.01,
        "{what}: up to {found} mg, by hand {by_hand} mg"
    );
}

/// At power-on 0.1 % of the cell's rated load above the stored zero, and 0.4 % below: nothing weighs less than nothing.
#[test]
fn at_power_on() {
    let zero = Zero::stored(FineCounts(0));
    for rated in [500e3, 1e6] {
        let accepts = |mg: f32| zero.accepts(mg, 5.0, 0.0, rated, Instant(2_000));
        at(limit(1.0, accepts), 0.001 * rated, "above");
        at(limit(-1.0, accepts), 0.004 * rated, "below");
    }
}

/// After a load: half a division, four standard errors, a thousandth of what was there, and 15 mg for each minute; twice as much downwards;
/// and never beyond half a gram.
#[test]
fn after_a_load_has_gone() {
    for (se, removed, minutes) in [
        (0.0, 0.0, 0),
        (10.0, 0.0, 0),
        (0.0, 100e3, 0),
        (0.0, 0.0, 6),
        (5.0, 80e3, 3),
    ] {
        let mut zero = proven(1_000);
        zero.load();
        let now = Instant(zero.now().at.0 + 60_000 * minutes);
        let accepts = |mg: f32| zero.accepts(mg, se, removed, CAPACITY, now);
        let shift = 50.0 + 4.0 * se + 0.001 * removed + 15.0 * minutes as f32;
        at(limit(1.0, accepts), shift, "above");
        at(limit(-1.0, accepts), 2.0 * shift, "below");
    }
    let mut zero = proven(1_000);
    zero.load();
    let accepts = |mg: f32| zero.accepts(mg, 5.0, 450e3, CAPACITY, Instant(3_600_000));
    at(limit(1.0, accepts), 500.0, "above at most");
    at(limit(-1.0, accepts), 1_000.0, "below at most");
}

/// From the empty pan a step upwards is a load, however long the pan has been empty; downwards it is as after a load.
#[test]
fn on_the_empty_pan_a_step_upwards_is_a_load() {
    let zero = proven(1_000);
    let now = Instant(zero.now().at.0 + 600_000);
    let accepts = |mg: f32| zero.accepts(mg, 5.0, 0.0, CAPACITY, now);
    at(limit(1.0, accepts), 70.0, "above");
    at(limit(-1.0, accepts), 2.0 * (70.0 + 150.0), "below");
}

/// The empty pan that was found first is what a press may set anew about, until the power goes; and it is remembered for weights before it.
#[test]
fn a_found_zero_is_remembered() {
    let mut zero = Zero::stored(FineCounts(77));
    assert!(!zero.is_empty() && !zero.now().proven && zero.initial() == FineCounts(77));
    let first = steady(1_000, 5_000, 20);
    zero.capture(first, 12.0);
    assert!(zero.is_empty() && zero.now().proven);
    let now = zero.now();
    assert_eq!((now.level, now.at), (first.level(), first.at()));
    assert!((now.se - first.se()).abs() < 1e-9 && (now.strain - 12.0).abs() < 1e-9);
    assert_eq!(zero.initial(), first.level());
    let mut found = vec![zero.now()];
    for start in [20_000, 40_000, 60_000] {
        zero.load();
        assert!(!zero.is_empty());
        zero.capture(steady(1_000 + start as i32 / 100, start, 20), 0.0);
        found.push(zero.now());
    }
    assert_eq!(zero.initial(), first.level(), "the first since power-on");
    // Of the four that are remembered, the first one after.
    for pair in found.windows(2) {
        assert_eq!(zero.found_after(pair[0].at), Some(pair[1]));
        assert_eq!(zero.found_after(Instant(pair[1].at.0 - 1)), Some(pair[1]));
    }
    assert_eq!(zero.found_after(Instant(0)), Some(found[0]));
    assert_eq!(zero.found_after(found[3].at), None);
    zero.capture(steady(1_000, 80_000, 20), 0.0);
    assert_eq!(zero.found_after(Instant(0)), Some(found[1]), "four are remembered");
    zero.doubt();
    assert!(!zero.is_empty() && !zero.now().proven);
}

/// Tracking goes so far in a tick and no farther, either way; a level surer than the zero is may go forty times as far.
#[test]
fn tracking_goes_so_far_and_no_farther() {
    let long = steady(1_000, 0, 120);
    let short = steady(1_000, 50_000, 20);
    assert!(long.se() < short.se());
    let moved = |from: SteadyLevel, to: SteadyLevel, farthest: i32| {
        let mut zero = Zero::stored(FineCounts(0));
        zero.capture(from, 0.0);
        zero.track(to, 7.0, farthest);
        let now = zero.now();
        assert!(now.proven && now.at == to.at() && (now.strain - 7.0).abs() < 1e-9);
        assert!(
            (now.se - from.se().min(to.se())).abs() < 1e-9,
            "{} of {} and {}",
            now.se,
            from.se(),
            to.se()
        );
        now.level.0 - from.level().0
    };
    let higher = |by: i32, ticks: usize| steady(1_000 + by, 90_000, ticks);
    for by in [400_i32, -400] {
        let sign = by.signum();
        // As sure or less sure: by the pace itself.
        assert_eq!(moved(long, higher(by, 20), 9), 9 * sign);
        assert_eq!(moved(short, higher(by, 20), 9), 9 * sign);
        // Surer: forty times that.
        assert_eq!(moved(short, higher(by, 120), 9), 360 * sign);
        // All of the way where it is not farther.
        let to = higher(by, 20);
        assert_eq!(moved(long, to, 100_000), to.level().0 - long.level().0);
    }
}

/// How unsure a level is counts in milligrams, whatever a count is worth: an end of a sixth of a gram that is laid on the empty pan is a
/// load also where the cell is so noisy that as many milligrams as it has counts would let it pass.
#[test]
fn a_short_end_on_the_empty_pan_of_a_noisy_cell_is_a_load() {
    for spread in [30, 300] {
        let mut cell = Cell::new(PER_GRAM);
        cell.spread = spread;
        cell.rest(60.0, 0.0);
        assert!(cell.scale.is_empty());
        let load = cell.settle(0.165);
        assert!(!cell.scale.is_empty());
        let gross = cell.scale.gross(&load);
        assert!((gross.value.0 - 165).abs() < 60, "{gross:?}");
    }
}
