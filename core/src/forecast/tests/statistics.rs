//! Quantiles, spreads and prediction intervals against a reference library and the handbooks' worked examples.

use std::println;

use crate::forecast::Prediction;
use crate::forecast::spread::Spread;
use crate::forecast::student::{normal_quantile, student_quantile};
use crate::math::{ceil, exp, ln, round};
use crate::values::rows;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// How far above the mean the next value stays with probability `p`, by the spread alone: as a forecast reserves it.
fn reserve_for_next(spread: &Spread, p: f32) -> f32 {
    let prediction = Prediction {
        expected: spread.mean(),
        variance: spread.variance_of_next(),
        freedom: spread.freedom(),
        ..Prediction::NOTHING
    };
    prediction.reserve(p)
}

fn deviation(spread: &Spread) -> f32 {
    spread.variance().sqrt()
}

/// Largest relative deviation of `ours` from `reference` over a grid, and where it was.
fn largest<const N: usize>(
    grid: impl Iterator<Item = [f64; N]>,
    mut deviation: impl FnMut([f64; N]) -> f64,
) -> (f64, [f64; N]) {
    grid.map(|point| (deviation(point).abs(), point)).fold(
        (0.0, [0.0; N]),
        |worst, next| if next.0 > worst.0 { next } else { worst },
    )
}

#[test]
fn exponential_and_logarithm_agree_with_the_standard_library() {
    let (worst, at) = largest((-8_000..8_000).map(|step| [f64::from(step) * 0.01]), |[x]| {
        f64::from(exp(x as f32)) / f64::from(x as f32).exp() - 1.0
    });
    println!("exp: largest relative deviation {worst:.2e} at {at:?}");
    assert!(worst < 1e-3);
    let (worst, at) = largest((1..40_000).map(|step| [1e-6 * 1.0007_f64.powi(step)]), |[x]| {
        let reference = f64::from(x as f32).ln();
        (f64::from(ln(x as f32)) - reference) / reference.abs().max(1.0)
    });
    println!("ln: largest deviation {worst:.2e} at {at:?}");
    assert!(worst < 1e-4);
    assert_eq!(exp(-1e9), 0.0);
    assert_eq!(ln(0.0), f32::MIN);
    assert_eq!(ln(f32::NAN), f32::MIN);
}

#[test]
fn rounding_is_away_from_zero_and_up() {
    let cases = [
        (2.5, 3, 3),
        (-2.5, -3, -2),
        (2.4, 2, 3),
        (-0.4, 0, 0),
        (7.0, 7, 7),
        (f32::NAN, 0, 0),
        (1e20, i32::MAX, i32::MAX),
    ];
    for (x, nearest, up) in cases {
        assert_eq!((round(x), ceil(x)), (nearest, up), "{x}");
    }
}

#[test]
fn normal_quantile_agrees_with_a_reference_library() {
    let normal = Normal::standard();
    let (worst, at) = largest((1..10_000).map(|step| [f64::from(step) * 1e-4]), |[p]| {
        f64::from(normal_quantile(p as f32)) - normal.inverse_cdf(f64::from(p as f32))
    });
    println!("normal quantile: largest deviation {worst:.2e} at {at:?}");
    assert!(worst < 5e-5);
}

#[test]
fn student_quantile_agrees_with_a_reference_library_over_a_grid() {
    // Degrees of freedom as Satterthwaite's formula gives them, fractions included; confidences that a setting can take.
    let confidences = [0.6, 0.75, 0.8, 0.9, 0.95, 0.975, 0.99, 0.995, 0.999];
    let freedoms = (200..2_000).step_by(7).map(|step| f64::from(step) * 0.01);
    let freedoms = freedoms.chain([1.0, 2.0, 25.0, 31.0, 60.0, 120.0, 500.0, 5_000.0, 20_000.0]);
    let grid = freedoms.flat_map(|freedom| confidences.map(|p| [p, freedom]));
    let relative = |[p, freedom]: [f64; 2]| {
        let reference = StudentsT::new(0.0, 1.0, freedom)
            .unwrap()
            .inverse_cdf(f64::from(p as f32));
        f64::from(student_quantile(p as f32, freedom as f32)) / reference - 1.0
    };
    let (worst, at) = largest(grid.clone(), relative);
    println!("Student t quantile: largest relative deviation {worst:.2e} at p, degrees of freedom {at:?}");
    assert!(worst < 1.5e-3);
    let (worst, at) = largest(grid.filter(|&[p, freedom]| p >= 0.9 && freedom != 2.0), relative);
    println!("  from 0.9 on, not at 2: {worst:.2e} at {at:?}");
    assert!(worst < 1.2e-3);
}

#[test]
fn student_quantile_is_the_printed_table() {
    for row in rows("student_t.csv") {
        let (p, freedom, printed) = (row.number(0), row.number(1), row.number(2));
        let ours = f64::from(student_quantile(p as f32, freedom as f32));
        // A factor beside a standard deviation that few pairs give: a thousandth of it cannot be seen.
        assert!(
            (ours - printed).abs() < 0.001_2 * printed.max(1.0),
            "p {p}, {freedom} degrees: {ours} for {printed}"
        );
    }
}

#[test]
fn quantile_between_one_and_two_degrees_is_on_the_safe_side() {
    assert_eq!(student_quantile(0.95, 1.5), student_quantile(0.95, 1.0));
    assert!(student_quantile(0.95, 1.5) > StudentsT::new(0.0, 1.0, 1.5).unwrap().inverse_cdf(0.95) as f32);
    assert_eq!(student_quantile(0.95, f32::NAN), student_quantile(0.95, 1.0));
}

#[test]
fn prediction_intervals_of_the_handbooks_come_out() {
    for row in rows("prediction_intervals.csv") {
        let mut spread = Spread::default();
        spread.extend(row.text(5).split(' ').map(|value| value.parse().unwrap()));
        let reserve = reserve_for_next(&spread, 0.975);
        let [mean, printed, low, high] = [1, 2, 3, 4].map(|column| row.number(column) as f32);
        let name = row.text(0);
        assert!((spread.mean() - mean).abs() < 6e-4, "{name}: mean {}", spread.mean());
        assert!(
            (deviation(&spread) - printed).abs() < 6e-5,
            "{name}: deviation {}",
            deviation(&spread)
        );
        assert!(
            (spread.mean() - reserve - low).abs() < 2e-3,
            "{name}: low {}",
            spread.mean() - reserve
        );
        assert!(
            (spread.mean() + reserve - high).abs() < 2e-3,
            "{name}: high {}",
            spread.mean() + reserve
        );
    }
}

#[test]
fn prediction_factors_by_count_come_out() {
    for row in rows("prediction_factors.csv") {
        let (p, count, printed) = (row.number(0), row.number(1), row.number(2));
        // A sample of that count with mean 0 and standard deviation 1: half at one side, half at the other.
        let mut spread = Spread::default();
        let scale = ((count - 1.0) / (count - if count % 2.0 == 1.0 { 1.0 } else { 0.0 })).sqrt();
        for place in 0..count as u32 {
            let odd_one = count % 2.0 == 1.0 && place + 1 == count as u32;
            let side = if place % 2 == 0 { scale } else { -scale };
            spread.add(if odd_one { 0.0 } else { side as f32 });
        }
        let factor = f64::from(reserve_for_next(&spread, p as f32));
        assert!(
            (factor / printed - 1.0).abs() < 6e-4,
            "n {count}: {factor} for {printed}"
        );
    }
}

#[test]
fn certified_statistics_survive_a_large_offset_in_single_precision() {
    // NIST StRD NumAcc1: 10000001, 10000003, 10000002; certified mean 10000002, standard deviation 1.
    let mut spread = Spread::default();
    spread.extend([10_000_001.0, 10_000_003.0, 10_000_002.0]);
    assert_eq!((spread.mean(), deviation(&spread)), (10_000_002.0, 1.0));
    // StRD Michelso: 100 values whose spread is in the fifth digit.
    let mut spread = Spread::default();
    spread.extend(rows("michelso.csv").iter().map(|row| row.number(0) as f32));
    assert_eq!(spread.count(), 100);
    assert!((f64::from(spread.mean()) - 299.852_4).abs() < 5e-5, "{}", spread.mean());
    assert!(
        (f64::from(deviation(&spread)) - 0.079_010_547_819).abs() < 2e-5,
        "{}",
        deviation(&spread)
    );
}
