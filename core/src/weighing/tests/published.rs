//! The weighing arithmetic against published values. The core computes in `f32`: seven digits, and what a fit loses of them is stated at
//! each tolerance.

use std::string::ToString;
use std::vec::Vec;

use crate::math;
use crate::units::{FineCounts, Milligrams};
use crate::values::rows;
use crate::weighing::fit;
use crate::weighing::{Calibration, CalibrationFault, Indication, Point, Unit};

fn pairs(name: &str) -> Vec<(f32, f32)> {
    let rows = rows(name);
    rows.iter()
        .map(|row| (row.number(0) as f32, row.number(1) as f32))
        .collect()
}

fn close(value: f32, certified: f64, relative: f64) {
    let off = (f64::from(value) - certified).abs() / certified.abs();
    assert!(off <= relative, "{value} is {off:e} off {certified}");
}

/// NIST `StRD` Pontius: the calibration of a real load cell, quadratic. Ill-conditioned in the plain normal equations; the slope keeps six
/// digits here, the bend five, the tiny intercept (a 3000th of full scale) three.
#[test]
fn the_certified_load_cell() {
    let points = pairs("pontius.csv");
    assert_eq!(points.len(), 40);
    let fit = fit::polynomial(&[], &points, 2).expect("determined");
    close(fit.b1, 0.732059160401003e-6, 1e-6);
    close(fit.b2, -0.316081871345029e-14, 1e-4);
    close(fit.b0, 0.673565789473684e-3, 3e-3);
    close(fit.residual_sd, 0.205177424076185e-3, 2e-3);
    let line = fit::polynomial(&[], &points, 1).expect("determined");
    // Computed, not certified: the straight line misses by ten times as much, which is what decides for the bend.
    close(line.b1, 7.221025814536e-7, 1e-6);
    close(line.residual_sd, 2.171273e-3, 1e-3);
}

/// NIST e-Handbook 4.6.1.9 (from memory, recomputed): a deflection of 1.239722 means a load of 1 705 106.
#[test]
fn the_certified_load_cell_read_backwards() {
    let fit = fit::polynomial(&[], &pairs("pontius.csv"), 2).expect("determined");
    let mut load = 1_700_000.0_f32;
    for _ in 0..20 {
        load += (1.239_722 - (fit.b0 + fit.rise(load))) / fit.b1;
    }
    assert!((load - 1_705_106.0).abs() < 3.0, "{load}");
}

/// NIST `StRD` Norris and `NoInt1`: straight lines.
#[test]
fn the_certified_lines() {
    let norris = fit::polynomial(&[], &pairs("norris.csv"), 1).expect("determined");
    close(norris.b1, 1.002_116_818_020_45, 1e-6);
    close(norris.b0, -0.262_323_073_774_029, 1e-3);
    close(norris.residual_sd, 0.884_796_396_144_373, 1e-4);
    close(norris.slope_sd * norris.residual_sd, 0.429_796_848_199_937e-3, 1e-4);
    let origin = fit::polynomial(&pairs("noint1.csv"), &[], 1).expect("determined");
    close(origin.b1, 2.074_380_165_289_26, 1e-6);
    close(origin.slope_sd * origin.residual_sd, 0.165_289_256_198_347e-1, 1e-5);
}

/// GUM H.3: correction of a thermometer, fitted about 20 degrees.
#[test]
fn the_thermometer_of_the_gum() {
    let points: Vec<_> = pairs("gum_h3.csv").iter().map(|&(t, b)| (t - 20.0, b)).collect();
    let fit = fit::polynomial(&[], &points, 1).expect("determined");
    // GUM: y1 = −0.1712, y2 = 0.00218, s = 0.0035, s(y2) = 0.00067, at 30 degrees −0.1494.
    close(fit.b0, -0.171_203_79, 1e-4);
    close(fit.b1, 0.002_182_697_7, 1e-3);
    close(fit.slope_sd * fit.residual_sd, 0.000_667_94, 1e-3);
    assert!((fit.residual_sd - 0.0035).abs() < 5e-5, "{}", fit.residual_sd);
    assert!(
        ((fit.b0 + fit.rise(10.0)) - -0.1494).abs() < 5e-5,
        "{}",
        (fit.b0 + fit.rise(10.0))
    );
}

/// A sensor calibrated at its ends: slope 9.799118 (published, +/- 0.00114).
#[test]
fn a_two_point_calibration() {
    let rows = pairs("two_point_sensor.csv");
    let ends = [rows[0], rows[rows.len() - 1]];
    let fit = fit::polynomial(&[], &ends, 1).expect("determined");
    close(fit.b1, 9.799_118, 1e-6);
    let worst = rows
        .iter()
        .map(|&(x, y)| ((fit.b0 + fit.rise(x)) - y).abs())
        .fold(0.0, f32::max);
    assert!(worst < 0.005, "non-linearity beyond the published 0.005: {worst}");
}

/// NIST `StRD` `NumAcc1`: a large offset and a tiny spread, the shape of raw counts.
#[test]
fn a_large_offset_is_exact() {
    let points = [10_000_001.0_f32, 10_000_003.0, 10_000_002.0].map(|y| (y - 10_000_001.0, y));
    let mean = fit::sum(points.iter().map(|p| p.0)) / 3.0;
    assert_eq!(10_000_001.0 + mean, 10_000_002.0);
}

/// OIML R 76-1 A.4.4.3: with small weights the point is found at which the indication changes over; it lies half a division above.
#[test]
fn the_changeover_point() {
    for row in rows("r76_changeover.csv") {
        let [e, indication, added, truth] = [0, 1, 2, 3].map(|column| row.number(column));
        assert!((indication + e / 2.0 - added - truth).abs() < 1e-9);
    }
    for steps in [-5_i32, 0, 1, 234, 4_999] {
        let at = Milligrams(steps * 100);
        let found = (0..100).find(|add| Indication::rounded(Milligrams(at.0 + add), Unit::Gram).steps() > steps);
        // Halves go away from zero: below zero the half itself still belongs to the lower step.
        assert_eq!(found, Some(if steps < 0 { 51 } else { 50 }), "above {steps}");
    }
}

/// The exact ounce (0.453 592 37 kg / 16): 28.35 g is 1.00 oz, 100 g is 3.53 oz (computed: 3.5274).
#[test]
fn ounces() {
    let ounces = |mg| Indication::rounded(Milligrams(mg), Unit::Ounce).to_string();
    assert_eq!(ounces(28_350), "1.00");
    assert_eq!(ounces(100_000), "3.53");
    assert_eq!(ounces(-141_748), "-5.00");
    assert_eq!(ounces(-1_000), "-0.04");
    assert_eq!(ounces(0), "0.00");
}

/// The square root of the core, to which everything else in here adds up.
#[test]
fn roots_are_good_to_the_last_digits() {
    for exponent in -20..20 {
        let x = 1.37_f32 * 2.0_f32.powi(exponent);
        close(math::sqrt(x), f64::from(x).sqrt(), 2e-6);
    }
}

/// Level of so many grams on a cell of 500 g that bows by 0.04 % at half load.
fn level(grams: f64) -> FineCounts {
    let bow = 0.0004 * 500.0 * 4.0 * (grams / 500.0) * (1.0 - grams / 500.0);
    FineCounts((16.0 * (100_000.0 + 4_294.967 * (grams + bow))) as i32)
}

/// Three proven points with a bow, the shape of Pontius, give a bent calibration; a wrong mass is refused.
#[test]
fn calibrations_are_proven() {
    let capacity = Milligrams::from_grams(500);
    let point = |grams: i32| Point {
        load: Milligrams::from_grams(grams),
        cup: false,
        u: 3.0,
        level: level(f64::from(grams)),
    };
    let proof =
        Calibration::prove(&[point(0), point(100), point(200), point(300), point(500)], capacity).expect("proven");
    assert!(proof.bent && proof.largest_residual < 3.0, "{proof:?}");
    let mass = proof.calibration.mass(level(250.0), level(0.0));
    assert!((mass - 250_000.0).abs() < 5.0, "{mass}");
    let straight = Calibration::prove(&[point(0), point(200)], capacity).expect("proven");
    assert!(!straight.bent);
    let wrong = Point {
        load: Milligrams::from_grams(220),
        ..point(200)
    };
    assert_eq!(
        Calibration::prove(&[point(0), point(100), wrong, point(500)], capacity),
        Err(CalibrationFault::NotStraight)
    );
    assert_eq!(
        Calibration::prove(&[point(0), point(10)], capacity),
        Err(CalibrationFault::TooLight)
    );
    assert_eq!(
        Calibration::prove(&[point(100), point(200)], capacity),
        Err(CalibrationFault::NoZero)
    );
    assert_eq!(
        Calibration::prove(&[point(0)], capacity),
        Err(CalibrationFault::TooFewPoints)
    );
    let dead = Point {
        level: level(0.0),
        ..point(200)
    };
    assert_eq!(
        Calibration::prove(&[point(0), dead], capacity),
        Err(CalibrationFault::NoResponse)
    );
}

/// The additive method (as in the linearity test of OIML R 76-1, A.4.4, without masses for the upper part; common practice): the step
/// that 100 g make on top of a cup of unknown weight tells the bow, exactly where nothing disturbs.
#[test]
fn one_mass_and_any_cup_tell_the_bow() {
    let capacity = Milligrams::from_grams(500);
    let point = |grams: i32, cup: f64| Point {
        load: Milligrams::from_grams(grams),
        cup: cup > 0.0,
        u: 3.0,
        level: level(f64::from(grams) + cup),
    };
    let off = |points: &[Point]| {
        let proof = Calibration::prove(points, capacity).expect("proven");
        let mass = proof.calibration.mass(level(300.0), level(0.0));
        (proof, f64::from(mass) - 300_000.0)
    };
    let (alone, by) = off(&[point(0, 0.0), point(100, 0.0)]);
    assert!(
        !alone.bent && by.abs() > 150.0 && f64::from(alone.u) > by.abs() / 3.0,
        "{by} mg, {alone:?}"
    );
    for cup in [150.0, 231.7, 350.0] {
        let (proof, by) = off(&[point(0, 0.0), point(100, 0.0), point(0, cup), point(100, cup)]);
        assert!(proof.bent && by.abs() < 3.0, "{by} mg with a cup of {cup} g");
        assert!(proof.u_reading < alone.u && proof.calibration.bow() > 0.0, "{proof:?}");
    }
    // The same mass twice in an empty pan does not tell any bow.
    let again = Point {
        level: FineCounts(level(100.0).0 + 400),
        ..point(100, 0.0)
    };
    assert!(!off(&[point(0, 0.0), point(100, 0.0), again]).0.bent);
}
