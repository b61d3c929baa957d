//! A weight seen again from later: once the pan has been found empty after it, its zero lies between the two empty pans (zero
//! bracketing; common practice in weighing, as ABA cycles are: before, load, after).

use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::SteadyLoad;
use yarn_scale_tests::cell::{Cell, PER_GRAM};

const RATED: f64 = 5e5;

fn rss(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt()
}

fn seconds(from: &SteadyLoad) -> f64 {
    from.at().0 as f64 / 1_000.0
}

fn near(value: Milligrams, mg: f64, within: f64) {
    assert!(
        (f64::from(value.0) - mg).abs() <= within,
        "{value:?}, by hand {mg:.0} mg"
    );
}

/// The zero drifts evenly while a cake lies there: of what it had drifted when the cake was weighed all is taken out, at whatever time
/// that was; and what a straight line between two empty pans can miss is stated.
#[test]
fn an_even_drift_under_a_load_is_taken_out() {
    for (drift, early, late) in [(0.2, 150.0, 450.0), (-0.35, 450.0, 150.0), (0.2, 300.0, 300.0)] {
        // Warm, so that a drift like that is not taken for creep of the cell, and nothing is learnt from it.
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(2_400.0, 0.0);
        cell.settle(100.0);
        let whole = early + late;
        cell.rest(early, drift * early / whole);
        let load = cell.scale.steady().expect("steady");
        assert_eq!(cell.scale.amended(&load), None, "before the pan was seen empty");
        let before = cell.scale.gross(&load);
        near(before.value, 100_000.0 + 1_000.0 * drift * early / whole, 10.0);
        cell.rest(late, drift * late / whole);
        cell.empty();
        let amended = cell.scale.amended(&load).expect("amended");
        near(amended.value, 100_000.0, 15.0);

        let zero = cell.scale.zero_point();
        let span = zero.at.0 as f64 / 1_000.0 - load.zero().at.0 as f64 / 1_000.0;
        let part = (seconds(&load) - load.zero().at.0 as f64 / 1_000.0) / span;
        // A walk that is pinned at both ends (a Brownian bridge), 0.0042 % of the rated load in an hour; and a drift that dies away, which
        // in the middle leaves the chord by 0.3 of its whole.
        let between = part * (1.0 - part);
        let temperature = rss(&[
            0.000_042 * RATED * (span / 3_600.0 * between).sqrt(),
            4.0 * between * 0.3 * 1_000.0 * drift,
        ]);
        let budget = cell.scale.budget(&load);
        let per_count = 1_000.0 / PER_GRAM;
        let zeros = rss(&[(1.0 - part) * f64::from(load.zero().se), part * f64::from(zero.se)]);
        let unlearnt = f64::from(cell.scale.budget(&load).creep) / 0.000_36;
        let strain = unlearnt - part * f64::from(zero.strain - load.zero().strain);
        let all = rss(&[
            f64::from(budget.resolution),
            f64::from(load.se()) * per_count,
            zeros * per_count,
            f64::from(budget.flicker),
            f64::from(budget.hysteresis),
            f64::from(budget.linearity),
            f64::from(budget.span),
            0.000_36 * strain,
            temperature,
        ]);
        assert!(
            (f64::from(amended.u) - all).abs() < 0.5,
            "{} mg, by hand {all:.1} mg; temperature {temperature:.1} mg",
            amended.u
        );
    }
}

/// A load that lay there at power-on has no empty pan before it: it stands on the one after, and is as sure as the time between allows.
#[test]
fn a_load_from_before_power_on_stands_on_the_empty_pan_after_it() {
    let mut cell = Cell::new(PER_GRAM);
    cell.zero = 0.3;
    let load = cell.settle(100.0);
    near(cell.scale.gross(&load).value, 100_300.0, 15.0);
    cell.rest(10.0, 0.0);
    cell.empty();
    let amended = cell.scale.amended(&load).expect("amended");
    near(amended.value, 100_000.0, 15.0);
    assert!(amended.u < 0.5 * cell.scale.gross(&load).u, "{amended:?}");
}

/// The first empty pan after a load counts, not one of later; and one that was found before it does not.
#[test]
fn the_next_empty_pan_is_the_one_that_counts() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(20.0, 0.0);
    cell.settle(50.0);
    cell.empty();
    let load = cell.settle(80.0);
    assert_eq!(cell.scale.amended(&load), None, "by an empty pan from before it");
    cell.rest(60.0, 0.0);
    cell.empty();
    let amended = cell.scale.amended(&load).expect("amended");
    for drift in [0.1, 0.1, 0.1] {
        cell.settle(80.0);
        cell.rest(60.0, drift);
        cell.empty();
        let later = cell.scale.amended(&load).expect("still remembered");
        assert!(
            (later.value.0 - amended.value.0).abs() <= 8,
            "{later:?} after {amended:?}"
        );
    }
    // Long ago is forgotten, not guessed.
    for _ in 0..4 {
        cell.settle(80.0);
        cell.empty();
    }
    assert_ne!(cell.scale.amended(&load), Some(amended));
}

/// What the cell has been found to creep is taken out of loads weighed before it was known, too, by as much as they had strained it.
#[test]
fn learnt_creep_is_taken_out_of_what_was_weighed_before() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(20.0, 0.0);
    cell.settle(400.0);
    // Half an hour under 400 g; the cell has gone up by 0.1 g of itself and comes back with that.
    cell.rest(1_800.0, 0.1);
    let load = cell.scale.steady().expect("steady");
    let before = f64::from(cell.scale.gross(&load).value.0);
    near(cell.scale.gross(&load).value, 400_100.0, 12.0);
    cell.empty();
    let after = f64::from(cell.scale.gross(&load).value.0);
    assert!(
        (20.0..110.0).contains(&(before - after)),
        "{before} mg, then {after} mg"
    );
    let amended = cell.scale.amended(&load).expect("amended");
    near(amended.value, 400_000.0, 12.0);
}
