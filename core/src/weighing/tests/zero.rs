//! When a level near zero is the empty pan, at the very limits: half a gram more or less decides whether a knitter's cake begins at nothing.

use std::vec;

use crate::converter::{RawSample, SampleRate};
use crate::signal::{Check, Estimator, SteadyLevel};
use crate::units::{Counts, FineCounts, Instant};
use crate::weighing::PanState;
use crate::weighing::zero::{Settled, Zero};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

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
    zero.capture(steady(1_000, start, 20), 0.0, 0.0);
    zero
}

/// The largest mass, to a milligram, of which this is said; `sign` says on which side of zero.
fn limit(sign: f32, said: impl Fn(f32) -> bool) -> f32 {
    assert!(said(0.0), "not even of zero itself");
    (1..5_000)
        .map(|mg| mg as f32)
        .take_while(|mg| said(sign * mg))
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
    for rated in [500e3, 1e6] {
        let accepts = |mg: f32| Zero::can_be_first(mg, rated);
        at(limit(1.0, accepts), 0.001 * rated, "above");
        at(limit(-1.0, accepts), 0.004 * rated, "below");
    }
}

/// A level that has settled after `gone` mg have gone off.
fn settled(gross: f32, noise: f32, moved: f32, gone: f32) -> Settled {
    Settled {
        gross,
        above_perhaps: None,
        noise,
        moved,
        gone,
        rested: true,
        stood: false,
    }
}

/// After a load: what noise cannot tell from zero, within half a division; three times what the cell can have moved, within half a
/// division to 0.11 g; and from there to three and a half times it is asked, within 0.3 g to half a gram.
#[test]
fn after_a_load_has_gone() {
    for (moved, sure, asked) in [
        (5.0_f32, 50.0, 300.0),
        (25.0, 75.0, 300.0),
        (100.0, 110.0, 350.0),
        (400.0, 110.0, 500.0),
    ] {
        let mut zero = proven(1_000);
        zero.load();
        let judge = |mg: f32| zero.judge(&settled(mg, 4.0, moved, 80e3), CAPACITY);
        at(limit(1.0, |mg| judge(mg) == Some(PanState::Empty)), sure, "empty");
        at(limit(1.0, |mg| judge(mg) != Some(PanState::Loaded)), asked, "asked");
        at(
            limit(-1.0, |mg| judge(mg) == Some(PanState::Empty)),
            (3.5 * moved).clamp(110.0, 500.0),
            "below",
        );
    }
}

/// Yarn that is knitted off goes in small steps: nothing but what noise cannot tell from zero is the empty pan then, whatever the cell may
/// have done meanwhile. A quarter of what went off may be left on an emptied pan; half, for a question.
#[test]
fn a_rest_that_came_in_small_steps_is_a_load() {
    let mut zero = proven(1_000);
    zero.load();
    for (noise, near) in [(2.0, 20.0), (12.0, 30.0), (40.0, 50.0)] {
        let judge = |mg: f32| zero.judge(&settled(mg, noise, 100.0, 15.0), CAPACITY);
        at(limit(1.0, |mg| judge(mg) == Some(PanState::Empty)), near, "empty");
        at(limit(1.0, |mg| judge(mg) != Some(PanState::Loaded)), near, "asked");
    }
    let judge = |mg: f32, gone: f32| zero.judge(&settled(mg, 2.0, 100.0, gone), CAPACITY);
    assert_eq!(judge(100.0, 400.0), Some(PanState::Empty));
    assert_eq!(judge(100.0, 399.0), Some(PanState::Perhaps));
    assert_eq!(judge(100.0, 199.0), Some(PanState::Loaded));
}

/// Asked once, a level that is there again after another load belongs to the pan; one that is not was a thing.
#[test]
fn the_same_level_after_another_load_is_the_pan() {
    let mut zero = proven(1_000);
    zero.load();
    zero.may_be(FineCounts(0), 300.0);
    assert_eq!(
        (zero.state(), zero.now().doubt.round() as i32),
        (PanState::Perhaps, 150)
    );
    zero.load();
    let again = |above: f32, gone: f32| {
        let level = Settled {
            above_perhaps: Some(above),
            ..settled(300.0 + above, 4.0, 100.0, gone)
        };
        zero.judge(&level, CAPACITY)
    };
    assert_eq!(again(10.0, 50e3), Some(PanState::Empty));
    assert_eq!(again(-10.0, 50e3), Some(PanState::Empty));
    assert_eq!(again(10.0, 499.0), Some(PanState::Loaded), "nothing has come and gone");
    assert_ne!(again(150.0, 50e3), Some(PanState::Empty));
}

/// A pull on the strand lifts a light cake for a moment: below zero the pan is believed at once only where a cell gets by itself.
#[test]
fn a_pull_that_lifts_is_no_empty_pan() {
    let mut zero = proven(1_000);
    zero.load();
    let judge = |gross: f32, rested: bool| {
        let level = Settled {
            rested,
            ..settled(gross, 5.0, 100.0, 1e3)
        };
        zero.judge(&level, CAPACITY)
    };
    assert_eq!(judge(-180.0, false), None);
    // As far up as the thing is heavy, or nearly.
    assert_eq!(judge(8.0, false), None);
    assert_eq!(judge(8.0, true), Some(PanState::Empty));
    assert_eq!(judge(-180.0, true), Some(PanState::Empty));
    assert_eq!(judge(-100.0, false), Some(PanState::Empty));
}

/// From the empty pan whatever noise can tell upwards is a load, however long it has been empty; downwards it is the pan once it has stood.
#[test]
fn on_the_empty_pan_a_step_upwards_is_a_load() {
    let zero = proven(1_000);
    for (noise, still) in [(5.0, 50.0), (20.0, 100.0)] {
        at(limit(1.0, |mg| Zero::still(mg, noise)), still, "above");
        at(limit(-1.0, |mg| Zero::still(mg, noise)), still, "below");
    }
    let judge = |gross: f32, stood: bool| {
        let level = Settled {
            stood,
            ..settled(gross, 5.0, 200.0, 1e5)
        };
        zero.judge(&level, CAPACITY)
    };
    assert_eq!(judge(60.0, true), Some(PanState::Loaded));
    assert_eq!(judge(-300.0, true), Some(PanState::Empty));
    assert_eq!(judge(-300.0, false), None, "a finger may lift it");
}

/// The empty pan that was found first is what a press may set anew about, until the power goes; and it is remembered for weights before it.
#[test]
fn a_found_zero_is_remembered() {
    let mut zero = Zero::stored(FineCounts(77));
    assert!(!zero.is_empty() && !zero.now().proven && zero.initial() == FineCounts(77));
    let first = steady(1_000, 5_000, 20);
    zero.capture(first, 12.0, 0.0);
    assert!(zero.is_empty() && zero.now().proven);
    let now = zero.now();
    assert_eq!((now.level, now.at), (first.level(), first.at()));
    assert!((now.se - first.se()).abs() < 1e-9 && (now.strain - 12.0).abs() < 1e-9);
    assert_eq!(zero.initial(), first.level());
    let mut found = vec![zero.now()];
    for start in [20_000, 40_000, 60_000] {
        zero.load();
        assert!(!zero.is_empty());
        zero.capture(steady(1_000 + start as i32 / 100, start, 20), 0.0, 0.0);
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
    zero.capture(steady(1_000, 80_000, 20), 0.0, 0.0);
    assert_eq!(zero.found_after(Instant(0)), Some(found[1]), "four are remembered");
    zero.doubt();
    assert!(!zero.is_empty() && !zero.now().proven);
}

/// Tracking goes so far in a tick and no farther, either way; a level surer than the zero is may go as far as is said for it.
#[test]
fn tracking_goes_so_far_and_no_farther() {
    let long = steady(1_000, 0, 120);
    let short = steady(1_000, 50_000, 20);
    assert!(long.se() < short.se());
    let moved = |from: SteadyLevel, to: SteadyLevel, farthest: i32| {
        let mut zero = Zero::stored(FineCounts(0));
        zero.capture(from, 0.0, 0.0);
        zero.track(to, 7.0, farthest, 40 * farthest, 0.0);
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
        // As sure or less sure: by the pace itself, and by as much less as its mean is shorter than 64 ticks.
        assert_eq!(moved(long, higher(by, 70), 9), 9 * sign);
        assert_eq!(moved(long, higher(by, 20), 64), 20 * sign);
        assert_eq!(moved(short, higher(by, 20), 64), 20 * sign);
        // Surer: forty times that, here.
        assert_eq!(moved(short, higher(by, 120), 9), 360 * sign);
        // All of the way where it is not farther.
        let to = higher(by, 20);
        assert_eq!(moved(long, to, 100_000), to.level().0 - long.level().0);
    }
}

/// A rest of more than 0.11 g is never the empty pan, whatever lay there before and however far the cell may have moved: that is asked; and
/// half a gram is not even that.
#[test]
fn a_load_is_never_taken_for_the_empty_pan() {
    let mut random = Pcg64Mcg::seed_from_u64(34);
    let mut asked = 0;
    for round in 0..20_000 {
        let mut zero = Zero::stored(FineCounts(0));
        zero.load();
        // Every other one a small thing.
        let heaviest = if round % 2 == 0 { 1e3 } else { CAPACITY };
        let (gross, noise) = (random.random_range(110.1..heaviest), random.random_range(0.0_f32..1e3));
        let (moved, gone) = (random.random_range(0.0_f32..1e4), random.random_range(-1e5_f32..5e5));
        let stood = random.random_bool(0.5);
        let level = Settled {
            rested: stood,
            stood,
            ..settled(gross, noise, moved, gone)
        };
        let state = zero.judge(&level, CAPACITY);
        assert!(state != Some(PanState::Empty), "{level:?}");
        assert!(gross <= 500.0 || state == Some(PanState::Loaded), "{level:?}");
        asked += u32::from(state == Some(PanState::Perhaps));
    }
    assert!(asked > 1_000);
}
