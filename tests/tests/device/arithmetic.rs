//! The device's arithmetic against this machine's, which follows IEEE 754 to the last bit.

use proptest::prelude::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use yarn_scale_firmware::float::{product, sum};
use yarn_scale_firmware::long_division::divide;

const SIGN: u32 = 1 << 31;

/// Compares what the device does with `a` and `b` with what this machine does; says whether the device did all by itself.
fn agree(a: u32, b: u32) -> bool {
    let (x, y) = (f32::from_bits(a), f32::from_bits(b));
    [
        ("+", sum(a, b), x + y),
        ("-", sum(a, b ^ SIGN), x - y),
        ("*", product(a, b), x * y),
    ]
    .map(|(what, ours, theirs)| {
        if let Some(ours) = ours {
            assert_eq!(
                ours,
                theirs.to_bits(),
                "{x:e} {what} {y:e} is {theirs:e}, not {:e}",
                f32::from_bits(ours)
            );
        }
        ours.is_some()
    }) == [true; 3]
}

#[test]
fn numbers_at_every_edge_with_each_other() {
    // Zero, subnormal, normal, infinite and none at all; significands that round up, down, to even, and into the next exponent.
    let exponents = [
        0, 1, 2, 24, 25, 26, 27, 28, 63, 64, 102, 103, 104, 125, 126, 127, 128, 149, 150, 151, 152, 252, 253, 254, 255,
    ];
    let fractions = [
        0, 1, 2, 3, 0x3f_ffff, 0x40_0000, 0x40_0001, 0x55_5555, 0x2a_aaab, 0x7f_fffd, 0x7f_fffe, 0x7f_ffff,
    ];
    let edges: Vec<u32> = exponents
        .iter()
        .flat_map(|exponent| fractions.iter().map(move |fraction| exponent << 23 | fraction))
        .flat_map(|bits| [bits, bits | SIGN])
        .collect();
    for &a in &edges {
        for &b in &edges {
            agree(a, b);
        }
    }
}

#[test]
fn any_two_numbers() {
    let mut random = Pcg64Mcg::seed_from_u64(6_000);
    for _ in 0..4_000_000 {
        agree(random.random(), random.random());
    }
}

#[test]
fn numbers_of_ordinary_size_are_left_to_nobody_else() {
    let mut random = Pcg64Mcg::seed_from_u64(6_001);
    for _ in 0..4_000_000 {
        let a = random.random::<u32>() & 0x807f_ffff | random.random_range(95..160) << 23;
        // Up to 31 binary orders apart: sums that cancel, and those that just reach the last bit.
        let b = (a.wrapping_add(random.random_range(0..32) << 23)) ^ random.random::<u32>() & 0x807f_ffff;
        assert!(agree(a, b));
        // Products that are exact, or lie just between two numbers; sums of which little is left, or nothing.
        let coarse = !0 << random.random_range(0..23_u32);
        assert!(agree(a & coarse, b & coarse));
        assert!(agree(a, a ^ random.random_range(0..4) ^ random.random::<u32>() & SIGN));
        assert!(agree(a, a ^ SIGN));
    }
}

#[test]
fn quotients_of_the_longest() {
    let longest = [1 << 63, (1 << 63) + 1, 3 << 62, u64::MAX - 1, u64::MAX];
    for dividend in longest {
        for divisor in longest {
            assert_eq!(divide(dividend, divisor), (dividend / divisor, dividend % divisor));
        }
    }
}

proptest! {
    #[test]
    fn long_quotients(dividend: u64, divisor: u64, shorter in 0..64_u32, shortest in 0..64_u32) {
        let (dividend, divisor) = (dividend >> shorter, divisor >> shortest);
        prop_assume!(divisor != 0);
        prop_assert_eq!(divide(dividend, divisor), (dividend / divisor, dividend % divisor));
    }
}
