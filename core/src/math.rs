//! Square root, exponential, logarithm and rounding: the same bits on host and device, for all is sums, products and quotients of IEEE 754.
//!
//! What is approximate is micromath's; how far off each is, a test below prints, and the reason why that is enough stands beside it.
//! micromath and libm are called by their full paths: where the standard library is linked, as in tests, its own methods of the same
//! names would come first.

#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a cast from a fraction saturates; this is the only place of it"
)]

/// Square root of `x`, relative error below 2e-7; 0 for anything that has none (negative, NaN, infinite) or is below the least normal number.
///
/// micromath's guess is off by 6 % at most, and each of Newton's steps squares that: 2e-3, 2e-6, 2e-12, of which rounding leaves 1e-7. That
/// is as much as any other operation loses. Uncertainties and noise, for which it is, have two digits that mean something.
#[must_use]
pub(crate) fn sqrt(x: f32) -> f32 {
    if x.is_nan() || x < f32::MIN_POSITIVE || x.is_infinite() {
        return 0.0;
    }
    let mut root = micromath::F32Ext::sqrt(x);
    for _ in 0..3 {
        root = 0.5 * (root + x / root);
    }
    root
}

/// Root of the sum of two squares: how independent standard uncertainties combine (GUM 5.1.2).
#[must_use]
pub(crate) fn rss(a: f32, b: f32) -> f32 {
    sqrt(a * a + b * b)
}

/// `e` to the power `x`, relative error below 0.1 %; 0 below -87 and the largest finite value above 88.
///
/// Enough for what it is for: how far wool has followed the air, by a time constant that is itself assumed, and Student's quantile,
/// which multiplies a standard deviation that six pairs give to a third: `1 / sqrt(2 (n − 1))`.
#[must_use]
pub(crate) fn exp(x: f32) -> f32 {
    if x < -87.0 {
        return 0.0;
    }
    if x > 88.0 {
        return f32::MAX;
    }
    // micromath's series alternates for a negative remainder, and is three times as far off there.
    let size = micromath::F32Ext::exp(x.abs());
    if x < 0.0 { 1.0 / size } else { size }
}

/// Natural logarithm of `x`, error below 1e-4; the most negative finite value for anything that has none.
///
/// Enough for what it is for: a power of a mass (1e-4 of it) and a tail of the normal distribution (1e-4 standard deviations).
#[must_use]
pub(crate) fn ln(x: f32) -> f32 {
    if x.is_nan() || x < f32::MIN_POSITIVE || x.is_infinite() {
        return f32::MIN;
    }
    // Below one micromath takes a reciprocal that is off by up to an eighth.
    if x < 1.0 {
        -micromath::F32Ext::ln(1.0 / x)
    } else {
        micromath::F32Ext::ln(x)
    }
}

/// The nearest integer, halves away from zero; saturates, 0 for NaN.
#[must_use]
pub(crate) fn round(x: f32) -> i32 {
    libm::roundf(x) as i32
}

/// The integer part, what is behind the point dropped; saturates, 0 for NaN.
#[must_use]
pub(crate) const fn whole(x: f32) -> i32 {
    x as i32
}

/// The integer part of what cannot be negative; saturates, 0 for NaN and for what is negative all the same.
#[must_use]
pub(crate) const fn whole_size(x: f32) -> u32 {
    x as u32
}

/// The least integer that is not below `x`; saturates, 0 for NaN.
#[must_use]
pub(crate) fn ceil(x: f32) -> i32 {
    libm::ceilf(x) as i32
}

#[cfg(test)]
mod tests {
    use std::println;

    use super::*;

    /// The largest error of `ours` against `theirs`, over values from `from` to `to` whose bits lie `step` apart; it is printed.
    fn largest(name: &str, [from, to]: [f32; 2], step: usize, error: impl Fn(f32) -> f64) -> f64 {
        let (mut worst, mut at) = (0.0, from);
        for x in (from.to_bits()..=to.to_bits()).step_by(step).map(f32::from_bits) {
            if error(x) > worst {
                (worst, at) = (error(x), x);
            }
        }
        println!("{name} from {from:e} to {to:e}: off by {worst:.1e} at most, at {at:e}");
        worst
    }

    #[test]
    fn largest_errors() {
        let relative = |ours: f32, true_value: f64| (f64::from(ours) / true_value - 1.0).abs();
        let all = [f32::MIN_POSITIVE, f32::MAX];
        let error = largest("guess of the root", all, 99_991, |x| {
            relative(micromath::F32Ext::sqrt(x), f64::from(x).sqrt())
        });
        assert!(error < 0.0607);
        let error = largest("sqrt, relative,", all, 9_973, |x| {
            relative(sqrt(x), f64::from(x).sqrt())
        });
        assert!(error < 2e-7);
        let error = largest("exp, relative,", [1e-30, 88.0], 9_973, |x| {
            relative(exp(x), f64::from(x).exp())
        });
        assert!(error < 1e-3);
        let error = largest("exp, relative, of the negative", [1e-30, 87.0], 9_973, |x| {
            relative(exp(-x), f64::from(-x).exp())
        });
        assert!(error < 1e-3);
        let error = largest("ln", all, 9_973, |x| (f64::from(ln(x)) - f64::from(x).ln()).abs());
        assert!(error < 1e-4);
    }

    #[test]
    fn what_has_no_value_gives_the_end_of_the_range() {
        for x in [0.0, -0.0, -1.0, f32::NAN, f32::INFINITY, f32::NEG_INFINITY, 1e-40] {
            assert_eq!(sqrt(x).to_bits(), 0, "{x}");
            assert_eq!(ln(x).to_bits(), f32::MIN.to_bits(), "{x}");
        }
        let ends = [exp(-87.1), exp(88.1), exp(0.0)].map(f32::to_bits);
        assert_eq!(ends, [0.0, f32::MAX, 1.0].map(f32::to_bits));
    }

    #[test]
    fn small_squares_have_exact_roots() {
        for n in 1..4_096_u16 {
            assert_eq!(sqrt(f32::from(n) * f32::from(n)).to_bits(), f32::from(n).to_bits());
        }
        assert_eq!(rss(3.0, -4.0).to_bits(), 5.0_f32.to_bits());
    }

    #[test]
    fn halves_go_away_from_zero_and_their_neighbours_do_not() {
        for x in [0.0_f32, 0.5, 1.5, 2.5, 99_999.5, 4_194_303.5, 8_388_609.0, 2.0e9] {
            for x in [x, x.next_down(), x.next_up(), -x] {
                assert_eq!(round(x), f64::from(x).round() as i32, "{x:e}");
                assert_eq!(ceil(x), f64::from(x).ceil() as i32, "{x:e}");
            }
        }
        assert_eq!((round(0.5), round(-2.5), ceil(-0.5), ceil(1.1)), (1, -3, 0, 2));
    }

    #[test]
    fn what_no_integer_holds_saturates() {
        for x in [2_147_483_648.0_f32, 1e20, f32::MAX, f32::INFINITY] {
            assert_eq!((round(x), round(-x)), (i32::MAX, i32::MIN), "{x:e}");
            assert_eq!((ceil(x), ceil(-x)), (i32::MAX, i32::MIN), "{x:e}");
        }
        assert_eq!((round(f32::NAN), ceil(f32::NAN)), (0, 0));
    }
}
