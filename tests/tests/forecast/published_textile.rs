//! Textile mass against published values. Each table names its source in its first line.

use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::Decitex;
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::values::rows;

fn near(ours: impl Into<f64>, published: f64, tolerance: f64) -> bool {
    (ours.into() - published).abs() <= tolerance
}

#[test]
fn linear_density_is_mass_per_kilometre() {
    for row in rows("linear_density.csv") {
        let (metres, tex, yards) = (row.number(0) as u16, row.number(1), row.number(2));
        assert!(near(Decitex::from_metres_per_100_g(metres).tex(), tex, 0.05));
        assert!(near(f64::from(metres) / 0.9144, yards, 0.02), "the table itself");
    }
    assert_eq!(Decitex::from_metres_per_100_g(0), Decitex(0));
    assert_eq!(Decitex::from_metres_per_100_g(1), Decitex(u16::MAX));
}

/// Published two-colour bookkeeping: 103 to 40 g is 63 g, 52 to 34 g is 18 g (read), 81 g in all.
#[test]
fn two_colours_before_and_after() {
    let grams = |grams| Measured {
        value: Milligrams::from_grams(grams),
        u: 30.0,
    };
    let (main, contrast) = (grams(103).minus(grams(40)), grams(52).minus(grams(34)));
    assert_eq!(
        (main.value, contrast.value),
        (Milligrams::from_grams(63), Milligrams::from_grams(18))
    );
    assert_eq!(main.plus(contrast).value, Milligrams::from_grams(81));
    assert!(near(main.plus(contrast).u, 60.0, 1e-3));
    // Common practice, no source: 20 g before and 16 g after is a cuff of 4 g.
    assert_eq!(grams(20).minus(grams(16)).value, Milligrams::from_grams(4));
}
