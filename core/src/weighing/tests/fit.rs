//! Fits of lines and parabolas: what is known of them by hand, and what holds for any points.

use std::prelude::rust_2024::*;
use std::vec;

use crate::values::rows;
use crate::weighing::fit;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// ISO/TS 28037's first kind of example: a line through points of equal, known uncertainty.
#[test]
fn a_line_through_points_of_known_uncertainty() {
    const U: f64 = 0.5;
    let points: Vec<(f32, f32)> = rows("line_with_known_u.csv")
        .iter()
        .map(|row| (row.number(0) as f32, row.number(1) as f32))
        .collect();
    let line = fit::polynomial(&[], &points, 1).expect("determined");
    let near = |value: f64, published: f64| assert!((value - published).abs() < 6e-4, "{value}, published {published}");
    near(f64::from(line.b0), 1.867);
    near(f64::from(line.b1), 1.757);
    let residual = f64::from(line.residual_sd);
    near(f64::from(line.slope_sd) * U, 0.120);
    near(4.0 * (residual / U).powi(2), 1.665);
    // Read backwards: y = 10.5 belongs to x = 4.913.
    near((10.5 - f64::from(line.b0)) / f64::from(line.b1), 4.913_279);
}

/// Neumaier's own example (1974, as the literature cites it; from memory): 1 + big + 1 − big is 2, which plain addition gives as 0 and
/// Kahan's sum as well. Then the same with many small terms, and the small ones first.
#[test]
fn sums_keep_what_an_addition_rounds_off() {
    let exactly = |terms: &[f32]| {
        let by_hand: f64 = terms.iter().map(|term| f64::from(*term)).sum();
        assert_eq!(f64::from(fit::sum(terms.iter().copied())), by_hand, "{terms:?}");
    };
    exactly(&[1.0, 1e10, 1.0, -1e10]);
    exactly(&[-1.0, 1e10, -1.0, -1e10]);
    exactly(&[1e10, 3.0, -1e10]);
    exactly(&[3.0, -1e10, 1e10]);
    let mut many = vec![16_777_216.0];
    many.extend([1.0; 100]);
    exactly(&many);
    many.reverse();
    exactly(&many);
}

/// Points at one abscissa determine neither a slope nor a bend, however many they are and however far apart they lie.
#[test]
fn points_at_one_place_make_no_line() {
    for points in [
        &[(3.0_f32, 1.0_f32), (3.0, 2.0)][..],
        &[(0.0, 0.0), (0.0, 0.0), (0.0, 100.0)],
        &[(-7e5, 1.0), (-7e5, 2.0), (-7e5, 3.0), (-7e5, 4.0)],
    ] {
        assert_eq!(fit::polynomial(&[], points, 1), None, "{points:?}");
        assert_eq!(fit::polynomial(&[], points, 2), None, "{points:?}");
    }
}

/// A fit of anything is a fit or none, never NaN or infinite; and a parabola misses no more than a line.
#[test]
fn fits_are_numbers() {
    let mut random = Pcg64Mcg::seed_from_u64(31);
    let mut both = 0;
    for _ in 0..2_000 {
        let count = random.random_range(0..10);
        let mut any = || random.random_range(-1e6_f32..1e6);
        let points: Vec<(f32, f32)> = (0..count).map(|_| (any(), any())).collect();
        let with_offset = [1, 2].map(|degree| fit::polynomial(&[], &points, degree));
        let from_origin = [fit::polynomial(&points, &[], 1), fit::polynomial(&points, &points, 2)];
        for fit in with_offset.iter().chain(&from_origin).flatten() {
            let numbers = [fit.b0, fit.b1, fit.b2, fit.residual_sd, fit.slope_sd];
            assert!(numbers.iter().all(|x| x.is_finite()), "{fit:?}");
            assert!(fit.residual_sd >= 0.0 && fit.slope_sd >= 0.0);
        }
        if let [Some(line), Some(parabola)] = with_offset {
            let squares = |fit: fit::Fit, parameters: usize| {
                f64::from(fit.residual_sd).powi(2) * points.len().saturating_sub(parameters) as f64
            };
            assert!(squares(parabola, 3) <= squares(line, 2) * 1.001 + 1.0, "{points:?}");
            both += 1;
        }
    }
    assert!(both > 1_000);
}

/// A line through points of a line is that line, wherever it lies.
#[test]
fn a_line_is_found_again() {
    let mut random = Pcg64Mcg::seed_from_u64(32);
    for _ in 0..1_000 {
        let (a, b) = (random.random_range(-1e3_f32..1e3), random.random_range(1e-2_f32..1e2));
        let (at, n) = (random.random_range(-1e4_f32..1e4), random.random_range(2..9_usize));
        let points: Vec<_> = (0..n).map(|i| at + 700.0 * i as f32).map(|x| (x, a + b * x)).collect();
        let line = fit::polynomial(&[], &points, 1).expect("determined");
        let reach = 700.0 * (n - 1) as f32;
        let slack = 4e-6 * (a.abs() + b * (at.abs() + reach)) / reach;
        assert!((line.b1 - b).abs() <= slack, "{} for {b}", line.b1);
    }
}
