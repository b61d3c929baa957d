//! What all weights on one scale have in common, by hand.

use yarn_scale_core::measured::Measured;
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::cell::{Cell, PER_GRAM};

use super::budget::{MG_PER_COUNT, OF_ONE_KILOGRAM, RATED, bow, close, rss};

/// Two readings of different days have span, bow and hysteresis in common, and those count for the part between the two only.
#[test]
fn readings_of_two_days_share_what_the_cell_does_to_both() {
    let conditions = Cell::new(OF_ONE_KILOGRAM).scale.conditions();
    close("rated", conditions.rated, RATED, 1.0);
    close("mg for a count", conditions.mg_per_count, MG_PER_COUNT, 1e-5);
    for (before, after) in [(100e3_f64, 60e3_f64), (400e3, 390e3), (2e3, 96e3), (80e3, 80e3)] {
        let shared = |mass: f64| rss(&[0.000_2 * mass, bow(mass), 0.000_2 * mass]);
        let reading = |mass: f64| Measured {
            value: Milligrams(mass as i32),
            u: rss(&[shared(mass), 12.0]) as f32,
        };
        close("own", conditions.own(reading(before)).u, 12.0, 0.05);
        let apart = (before - after).abs();
        let part = rss(&[0.000_2 * apart, bow(before) - bow(after), 0.000_2 * apart]);
        close(
            "apart",
            conditions.difference_u(Milligrams(before as i32), Milligrams(after as i32)),
            part,
            0.05,
        );
        let used = conditions.used(reading(before), reading(after));
        close("used", used.u, rss(&[12.0, 12.0, part]), 0.1);
        assert_eq!(used.value, Milligrams((before - after) as i32));
    }
}

/// A stronger cell is taken for a smaller one, but never for one smaller than the scale's capacity.
#[test]
fn the_rated_load_is_never_less_than_the_capacity() {
    close("rated", Cell::new(2.0 * PER_GRAM).scale.conditions().rated, 5e5, 0.1);
    close(
        "rated",
        Cell::new(-OF_ONE_KILOGRAM).scale.conditions().rated,
        RATED,
        1.0,
    );
}
