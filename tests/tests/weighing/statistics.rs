//! The averaging of the core against a published data set for it.

use yarn_scale_core::signal::{Noise, Segment};
use yarn_scale_core::units::FineCounts;
use yarn_scale_tests::cell::{Cell, EMPTY, PER_GRAM};
use yarn_scale_tests::values::rows;

/// The 1000-point test set of NIST SP 1065: a multiplicative congruence, with the fourth number it must give.
fn test_set() -> Vec<f64> {
    let mut numbers = vec![1_234_567_890_u64];
    while numbers.len() < 1_000 {
        numbers.push(numbers[numbers.len() - 1] * 16_807 % 2_147_483_647);
    }
    assert_eq!(numbers[3], 633_705_974);
    numbers.iter().map(|n| *n as f64 / 2_147_483_647.0).collect()
}

/// Averages over 1, 10 and 100 ticks as a segment takes them have the Allan deviation that is published for the set: nothing is lost or
/// counted twice on the way from ticks to a level.
#[test]
fn averages_have_the_published_allan_deviation() {
    const FINE: f64 = 16_777_216.0;
    // So noisy a unit that the set is one segment.
    let mut noise = Noise::new();
    for _ in 0..2_000 {
        noise.learn(160_000_000, 160_000_000);
    }
    for row in rows("sp1065_deviation.csv") {
        let points = row.number(0) as usize;
        let mut segment = Segment::new();
        let mut averages = Vec::new();
        for (index, y) in test_set().iter().enumerate() {
            segment.take(FineCounts((y * FINE).round() as i32), &noise);
            if (index + 1) % points == 0 {
                averages.push(f64::from(segment.mean(points).0) / FINE);
            }
        }
        let squares: f64 = averages.windows(2).map(|pair| (pair[1] - pair[0]).powi(2)).sum();
        let deviation = (squares / (2.0 * (averages.len() - 1) as f64)).sqrt();
        let published = row.number(1);
        assert!(
            (deviation / published - 1.0).abs() < 1e-6,
            "{points} points: {deviation}, published {published}"
        );
    }
}

/// For white noise the Allan deviation falls with the root of the number averaged; so does the standard error that the core states.
#[test]
fn standard_errors_fall_as_white_noise_does() {
    let mut noise = Noise::new();
    // Differences of white noise are as large at any distance.
    for index in 0..4_000 {
        let difference = if index % 2 == 0 { 1_600 } else { -1_600 };
        noise.learn(difference, difference);
    }
    let one = noise.standard_error(1);
    for n in [2, 4, 16, 64] {
        let ratio = one / noise.standard_error(n);
        assert!((ratio / (n as f32).sqrt() - 1.0).abs() < 0.12, "{n}: {ratio}");
    }
}

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
