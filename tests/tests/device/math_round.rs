//! The core's rounding against the host's, in double precision: halves away from zero, saturating.

use proptest::prelude::*;
use yarn_scale_core::math::round;

fn hosts(x: f32) -> i32 {
    f64::from(x).round() as i32
}

#[test]
fn halves_go_away_from_zero_and_their_neighbours_do_not() {
    for x in [
        0.0_f32,
        0.5,
        1.5,
        2.5,
        49.5,
        99_999.5,
        4_194_303.5,
        8_388_607.5,
        8_388_609.0,
        2.0e9,
    ] {
        for x in [x, x.next_down(), x.next_up()] {
            assert_eq!(round(x), hosts(x), "{x:e}");
            assert_eq!(round(-x), hosts(-x), "{:e}", -x);
        }
    }
    assert_eq!(round(0.5), 1);
    assert_eq!(round(-2.5), -3);
}

#[test]
fn what_no_integer_holds_saturates() {
    for x in [2_147_483_648.0_f32, 1e20, f32::MAX, f32::INFINITY] {
        assert_eq!((round(x), round(-x)), (i32::MAX, i32::MIN), "{x:e}");
    }
    assert_eq!(round(f32::NAN), 0);
}

proptest! {
    #[test]
    fn any_number(bits: u32, near in -3e6_f32..3e6) {
        for x in [f32::from_bits(bits), near] {
            prop_assert_eq!(round(x), hosts(x), "{:e}", x);
        }
    }
}
