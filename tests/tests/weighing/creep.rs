//! What an emptied pan teaches the scale of its cell's creep.

use yarn_scale_tests::cell::{Cell, PER_GRAM};

fn close(what: &str, value: f32, by_hand: f64, within: f64) {
    let off = (f64::from(value) - by_hand).abs();
    assert!(off <= within, "{what}: {value}, by hand {by_hand}");
}

/// The bracket after so many seconds under a load of 1, from rest: a third within a minute, the rest within ten.
fn under_load(seconds: f64) -> f64 {
    0.363 * (1.0 - (-seconds / 60.0).exp()) + 0.674 * (1.0 - (-seconds / 620.0).exp())
}

/// How much the emptied pan after half an hour under 400 g takes out of what was weighed there: as much as the shift is likelier creep than
/// hysteresis of that load (0.02 %, and 2.5 mg for having been put down), or the zero's way in a warm room (0.0042 % of the rated load in an hour); the span has no say in it.
#[test]
fn the_scale_learns_as_much_as_its_other_errors_allow() {
    for shift in [150.0, -120.0] {
        let mut cell = Cell::new(PER_GRAM);
        cell.rest(3_600.0, 0.0);
        cell.settle(400.0);
        cell.rest(1_800.0, shift / 1_000.0);
        let load = cell.scale.steady().expect("steady");
        let before = f64::from(cell.scale.gross(&load).value.0);
        cell.empty();
        let taken_out = before - f64::from(cell.scale.gross(&load).value.0);
        let creep = 0.000_36 * 400e3 * under_load(1_800.0);
        let room = 0.000_042 * 500e3 * 0.5_f64.sqrt();
        let others = (80.0_f64.powi(2) + 2.5_f64.powi(2) + room * room + 7.0 * 7.0).sqrt();
        let by_hand = shift * creep * creep / (creep * creep + others * others);
        assert!(
            (taken_out - by_hand).abs() < 5.0,
            "{taken_out} mg, by hand {by_hand:.1} mg"
        );
    }
}

/// From a zero that was never seen nothing is learnt: how far it is off now says nothing of the cell.
#[test]
fn a_stored_zero_teaches_nothing_about_the_cell() {
    let mut cell = Cell::new(PER_GRAM);
    cell.zero = 0.3;
    cell.settle(400.0);
    cell.rest(1_800.0, 0.0);
    let load = cell.scale.steady().expect("steady");
    let before = cell.scale.gross(&load).value;
    cell.empty();
    assert_eq!(cell.scale.gross(&load).value, before);
    close(
        "unknown still",
        cell.scale.budget(&load).creep,
        f64::from(cell.scale.conditions().restless) * 36.0 * 4.0 * under_load(1_800.0),
        2.5,
    );
}

/// A cell that is loaded again at once is still strained from before, and creeps no farther: what its zero does meanwhile is the room's, and
/// takes nothing out of what was weighed.
#[test]
fn a_cell_that_is_still_strained_teaches_nothing_anew() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(3_600.0, 0.0);
    cell.settle(400.0);
    cell.rest(1_800.0, 0.0);
    let load = cell.scale.steady().expect("steady");
    cell.empty();
    let before = cell.scale.gross(&load).value.0;
    cell.settle(400.0);
    cell.rest(1_800.0, 0.1);
    cell.empty();
    let after = cell.scale.gross(&load).value.0;
    assert!((before - after).abs() < 5, "{} mg taken out", before - after);
}
