//! What the zeros of a unit say of how restless it is beside the assumed one.

use std::vec::Vec;

use crate::units::FineCounts;
use crate::weighing::restless::{Restless, STRETCH, Wandering};

/// A unit of which nothing is known is taken for one like others.
#[test]
fn nothing_known_is_as_assumed() {
    assert!((Restless::cell().factor() - 1.0).abs() < 1e-6);
    assert!((Restless::amplifier().factor() - 1.0).abs() < 1e-6);
}

/// What is stated allows for how little was seen: by Student's t at 95 % for as many degrees of freedom, over the normal distribution's (GUM,
/// JCGM 100:2008, table G.2: 2.78 for 4, 2.57 for 5, 2.23 for 10, 2.09 for 20).
#[test]
fn few_observations_are_allowed_for_as_by_student() {
    for (more, t) in [(0, 2.776), (1, 2.571), (6, 2.228), (16, 2.086)] {
        let mut restless = Restless::cell();
        for _ in 0..more {
            restless.learn(20.0, 0.0, 20.0);
        }
        let times = f64::from(restless.allowance() / restless.factor());
        assert!((times - t / 1.96).abs() < 0.02 * times, "{more}: {times} times");
    }
}

/// The mean of the guess, which counts as four observations, and of the squares seen, each with what the noise let it say: by hand.
#[test]
fn shifts_are_averaged_as_by_hand() {
    let mut restless = Restless::cell();
    let (mut sum, mut weight) = (4.0_f64, 4.0_f64);
    for (shift, noise, moved) in [
        (30.0_f32, 0.0_f32, 20.0_f32),
        (-10.0, 5.0, 20.0),
        (70.0, 20.0, 20.0),
        (0.0, 3.0, 9.0),
    ] {
        restless.learn(shift, noise, moved);
        let [shift, noise, moved] = [shift, noise, moved].map(|x| f64::from(x).powi(2));
        let told = (moved / (moved + noise)).powi(2);
        sum += told * ((shift - noise) / moved).max(0.0);
        weight += told;
        let by_hand = (sum / weight).sqrt().clamp(0.8, 6.0);
        assert!(
            (f64::from(restless.factor()) - by_hand).abs() < 1e-4,
            "{} of {by_hand}",
            restless.factor()
        );
    }
}

/// A unit twice as restless as assumed is known as that after some emptied pans, a calm one as calm; noise alone says nothing, and a single
/// shift that only a thing left behind can have made says no more than six standard deviations would.
#[test]
fn a_unit_is_known_after_some_emptied_pans() {
    for (times, low, high) in [(2.0_f32, 1.7, 2.1), (1.0, 0.85, 1.1), (0.2, 0.8, 0.801)] {
        let mut restless = Restless::cell();
        // Shifts with the mean square of the unit, in turn.
        for turn in 0..60 {
            let shift = times * 15.0 * [0.3_f32, -1.5, 0.8, -0.1, 1.0][turn % 5];
            restless.learn(shift, 2.0, 15.0);
        }
        assert!(
            (low..=high).contains(&restless.factor()),
            "{times}: {}",
            restless.factor()
        );
    }
    let mut restless = Restless::cell();
    for _ in 0..20 {
        restless.learn(200.0, 100.0, 1.0);
    }
    assert!((restless.factor() - 1.0).abs() < 0.01, "noise");
    restless.learn(1e6, 0.0, 10.0);
    assert!(restless.factor() < 3.0, "{}", restless.factor());
    restless.learn(5.0, 1.0, 0.0);
    assert!(restless.factor().is_finite());
}

/// A step from stretch to stretch is compared with the one before it; an even drift has none, and what comes in between ends it.
#[test]
fn an_even_drift_is_no_wandering() {
    let mut wandering = Wandering::default();
    let mut said = Vec::new();
    for tick in 1..=5 * STRETCH {
        let stretch = i32::from((tick - 1) / STRETCH);
        // Levels 0, 5, 10, 15, 28 counts: the steps go on evenly but for the last.
        let counts = 5 * stretch + if stretch == 4 { 8 } else { 0 };
        said.extend(wandering.take(FineCounts(16 * counts)).map(|by| (tick, by)));
    }
    assert_eq!(said, [(3 * STRETCH, 0.0), (4 * STRETCH, 0.0), (5 * STRETCH, 8.0)]);
    wandering.interrupt();
    let said: Vec<u16> = (1..=3 * STRETCH)
        .filter(|_| wandering.take(FineCounts(7)).is_some())
        .collect();
    assert_eq!(said, [3 * STRETCH]);
}

/// A jump with nothing put on the pan is told once the level behind it is known; what comes in between ends it.
#[test]
fn a_jump_is_told_once_the_level_behind_it_is_known() {
    let mut wandering = Wandering::default();
    let level = FineCounts;
    assert_eq!(wandering.take(level(160)), None);
    assert_eq!(wandering.jump(level(160), 500), None, "none yet");
    wandering.jumped();
    // Unsteady once more before it was known: still from where it was at first.
    wandering.take(level(900));
    wandering.jumped();
    assert_eq!(wandering.jump(level(1_120), 39), None, "too young");
    assert_eq!(wandering.jump(level(1_120), 40), Some(60.0));
    assert_eq!(wandering.jump(level(1_120), 41), None, "told once");
    wandering.take(level(1_120));
    wandering.interrupt();
    wandering.jumped();
    assert_eq!(wandering.jump(level(16), 500), None, "something came in between");
}

/// One step of the offset says more than other single observations may.
#[test]
fn a_step_is_not_clipped_like_a_shift() {
    let mut of_steps = Restless::steps();
    of_steps.learn(150.0, 0.0, 10.0);
    assert!(
        (of_steps.bare() - (229.0_f32 / 5.0).sqrt()).abs() < 1e-3,
        "{}",
        of_steps.bare()
    );
    of_steps.learn(1e6, 0.0, 10.0);
    assert!(
        (of_steps.bare() - (629.0_f32 / 6.0).sqrt()).abs() < 1e-3,
        "{}",
        of_steps.bare()
    );
}
