//! The core's square root against the host's, which IEEE 754 wants correctly rounded.

use proptest::prelude::*;
use yarn_scale_core::math::{rss, sqrt};

#[test]
fn what_has_no_root_gives_zero() {
    for x in [0.0, -0.0, -1.0, f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
        assert_eq!(sqrt(x).to_bits(), 0, "{x}");
    }
}

#[test]
fn both_ends_of_each_power_of_two_have_the_hosts_bits() {
    for exponent in 1..255_u32 {
        for mantissa in [0, 1, 2, 0x3f_ffff, 0x40_0000, 0x40_0001, 0x7f_fffe, 0x7f_ffff] {
            let x = f32::from_bits(exponent << 23 | mantissa);
            assert_eq!(sqrt(x).to_bits(), x.sqrt().to_bits(), "{x:e}");
        }
    }
}

#[test]
fn every_mantissa_has_the_hosts_bits_in_steps() {
    // Both parities of the exponent; the step is prime to the period.
    for x in (0x3f80_0000..0x4080_0000_u32).step_by(37).map(f32::from_bits) {
        assert_eq!(sqrt(x).to_bits(), x.sqrt().to_bits(), "{x:e}");
    }
}

#[test]
fn squares_have_exact_roots() {
    for n in 0..4_096_u16 {
        assert_eq!(sqrt(f32::from(n) * f32::from(n)), f32::from(n));
    }
    assert_eq!(rss(3.0, -4.0), 5.0);
}

proptest! {
    #[test]
    fn any_positive_number_has_the_hosts_bits(bits in 1..0x7f80_0000_u32) {
        let x = f32::from_bits(bits);
        prop_assert_eq!(sqrt(x).to_bits(), x.sqrt().to_bits());
    }
}
