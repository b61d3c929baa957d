//! Metres from grams, against published bookkeeping.

use crate::forecast::length::{BAND_TOLERANCE, length_of};
use crate::measured::Measured;
use crate::units::Milligrams;

fn near(ours: impl Into<f64>, published: f64, tolerance: f64) -> bool {
    (ours.into() - published).abs() <= tolerance
}

/// Published bookkeeping: 78 g of a yarn of 400 m per 100 g are 312 m (read). Computed: 37.4 g at 4.2 m/g are 157.08 m, to 0.121 m by
/// the rounding of the mass to 0.1 g, to 1.82 m with a band that is right to 2 %.
#[test]
fn metres_follow_from_grams() {
    let exact = |grams: i32, metres| {
        length_of(
            Measured {
                value: Milligrams(grams),
                u: 0.0,
            },
            metres,
            0.0,
        )
        .unwrap()
    };
    assert_eq!(exact(78_000, 400).millimetres, 312_000);
    assert_eq!(exact(37_400, 420).millimetres, 157_080);
    let rounded = Measured {
        value: Milligrams(37_400),
        u: 100.0 / 12.0_f32.sqrt(),
    };
    assert!(near(length_of(rounded, 420, 0.0).unwrap().u, 121.0, 0.5));
    assert!(near(length_of(rounded, 420, BAND_TOLERANCE).unwrap().u, 1_820.0, 5.0));
    assert_eq!(length_of(rounded, 0, 0.02), None);
    assert_eq!(exact(i32::MAX, u16::MAX).millimetres, i32::MAX);
    assert_eq!(exact(-50, 1).millimetres, -1, "half away from zero");
}

/// Whatever a damaged record or a doubtful reading says.
#[test]
fn any_mass_has_a_length_or_none() {
    for value in [i32::MIN, -1, 0, 1, i32::MAX].map(Milligrams) {
        for u in [f32::NAN, f32::INFINITY, -1.0, 0.0, 500.0] {
            for metres in [0, 1, 420, u16::MAX] {
                assert_eq!(length_of(Measured { value, u }, metres, u).is_none(), metres == 0);
            }
        }
    }
}
