//! How far the levels of loads scatter, and how far they say they do.

use yarn_scale_tests::cell::{Cell, EMPTY, PER_GRAM};

/// The levels of loads that settle one after another scatter about the truth by as much as each of them states.
#[test]
fn levels_scatter_by_their_standard_error() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(30.0, 0.0);
    let (mut squares, count) = (0.0, 200);
    for index in 0..count {
        let grams = [50.0, 80.0][index % 2];
        let load = cell.settle(grams);
        let truth = f64::from(EMPTY) + (grams * PER_GRAM).round();
        let off = f64::from(load.level().0) / 16.0 - truth;
        squares += (off / f64::from(load.se())).powi(2) / count as f64;
    }
    let ratio = squares.sqrt();
    println!("scatter over stated standard error: {ratio:.2}");
    assert!((0.7..1.3).contains(&ratio), "{ratio}");
}
