//! Calibrating by the pages of the device, on many simulated scales: what the known masses are worth, and that bad ones are refused.
//! `yarn-scale-lab calibrations` prints the same for a thousand.

use yarn_scale_sim::lab::calibrations::{
    BAD_G, MASS_AND_CUP, Mishap, ONE_MASS, THREE_LOADS, TWENTY_COINS, Tally, Told, tally,
};

/// Minutes that the scales have been on: they still warm up.
const WARM: u32 = 5;

fn of(loads: &[Told], mishap: Mishap, scales: u64) -> Tally {
    tally(loads, mishap, WARM, 1..=scales)
}

fn bad(tally: &Tally) -> usize {
    tally.accepted.iter().filter(|errors| errors.worst >= BAD_G).count()
}

#[test]
fn two_masses_and_both_together_calibrate_to_half_a_division_to_300_g() {
    let tally = of(THREE_LOADS.loads, Mishap::None, 100);
    println!(
        "99 % below {:.3} g, {} refused",
        tally.percentile(99, |errors| errors.worst),
        tally.refused
    );
    assert!(tally.refused <= 2, "{}", tally.refused);
    assert!(tally.share(|errors| errors.worst < 0.05) >= 97.0);
    // A section is a difference: a few milligrams at the most.
    assert!(tally.percentile(99, |errors| errors.of_section) < 0.005);
}

/// Half a division at 300 g from one mass: the mass on top of any cup tells the bow. A pressed load is put down again, so none is refused.
#[test]
fn one_mass_and_any_cup_calibrate_to_half_a_division_up_to_300_g() {
    let tally = of(MASS_AND_CUP.loads, Mishap::None, 100);
    assert!(tally.refused <= 2, "{}", tally.refused);
    assert!(tally.share(|errors| errors.worst < 0.05) >= 97.0);
    assert!(tally.share(|errors| errors.of_300_g.abs() <= errors.stated) >= 95.0);
    assert!(
        tally.share(|errors| errors.marks > 5) >= 10.0,
        "nothing was put down again"
    );
}

#[test]
fn one_mass_serves_sections_though_not_a_whole_skein() {
    let tally = of(ONE_MASS.loads, Mishap::None, 60);
    assert!(tally.percentile(99, |errors| errors.of_section) < 0.01);
    assert_eq!(bad(&tally), 0);
}

#[test]
fn what_is_stated_of_coins_covers_the_truth() {
    let tally = of(TWENTY_COINS.loads, Mishap::None, 100);
    let covered = tally.share(|errors| errors.of_300_g.abs() <= errors.stated);
    println!("{covered} %, stated {:.3} g", tally.accepted[0].stated);
    assert!(covered >= 95.0, "{covered}");
    // Honest, and no more modest than it must be: a purse is worth about one percent.
    assert!((1.5..4.5).contains(&tally.accepted[0].stated));
}

#[test]
fn a_moved_pan_is_refused_with_one_load_and_a_wrong_mass_with_several() {
    for (loads, mishap) in [
        (ONE_MASS.loads, Mishap::Hand),
        (ONE_MASS.loads, Mishap::NotEmpty),
        (THREE_LOADS.loads, Mishap::WrongMass),
    ] {
        let tally = of(loads, mishap, 20);
        assert_eq!((tally.refused, tally.accepted.len()), (20, 0), "{mishap:?}");
    }
    assert_eq!(bad(&of(ONE_MASS.loads, Mishap::Knock, 30)), 0);
}
