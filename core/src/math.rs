//! Square root, exponential, logarithm, and a quotient of a long integer: the same bits on host and Cortex-M0+, whichever library stands around.

/// Square root of `x`, correctly rounded (IEEE 754, to nearest); 0 for anything that has none (negative, NaN, infinite).
///
/// Digit by digit in integers: a processor without floating point needs some 350 cycles for it, less than two steps of Newton's
/// method cost there.
#[must_use]
pub fn sqrt(x: f32) -> f32 {
    let bits = x.to_bits();
    // Negative numbers and NaN are above the infinite, as bits.
    if bits == 0 || bits >= INFINITE {
        return 0.0;
    }
    if bits < LEAST_NORMAL {
        // Subnormal: a power of four brings it into range.
        return sqrt(x * TWO_TO_24) * TWO_TO_MINUS_12;
    }
    let exponent = bits >> 23;
    let mantissa = (bits & 0x007f_ffff) | 0x0080_0000;
    // x = mantissa * 2^(exponent - 150); the mantissa takes over what is odd of the exponent, half of the rest is the root's.
    let odd = exponent.wrapping_add(1) & 1;
    let mut rest = mantissa << odd.wrapping_add(1);
    // The root's digits from the highest, and what is left of the radicand, shifted along; the root stands doubled.
    let (mut root, mut digit) = (0_u32, 1_u32 << 24);
    loop {
        let subtrahend = root.wrapping_add(digit);
        if let Some(left) = rest.checked_sub(subtrahend) {
            rest = left;
            root = subtrahend.wrapping_add(digit);
        }
        rest <<= 1;
        digit >>= 1;
        if digit == 0 {
            break;
        }
    }
    let root = root >> 1;
    // One digit more than the result holds: it decides the rounding. A root that ends there exactly does not exist.
    let rounded = root.wrapping_add(root & 1) >> 1;
    let half = exponent.wrapping_sub(127).cast_signed() >> 1;
    f32::from_bits(
        half.wrapping_add(126)
            .cast_unsigned()
            .wrapping_shl(23)
            .wrapping_add(rounded),
    )
}

/// Root of the sum of two squares: how independent standard uncertainties combine (GUM 5.1.2).
#[must_use]
pub fn rss(a: f32, b: f32) -> f32 {
    sqrt(a * a + b * b)
}

/// `e` to the power `x`, relative error below 1e-6; 0 below -87 and the largest finite value above 88.
#[must_use]
pub fn exp(x: f32) -> f32 {
    if x < -87.0 {
        return 0.0;
    }
    if x > 88.0 {
        return f32::MAX;
    }
    let power = round(x * core::f32::consts::LOG2_E);
    // ln 2 in two parts, so that the remainder keeps its last bits.
    let rest = x - power as f32 * 0.693_359_4 + power as f32 * 2.121_944_4e-4;
    let series = 1.0 + rest * (1.0 / 6.0 + rest * (1.0 / 24.0 + rest * (1.0 / 120.0 + rest / 720.0))) * rest * rest;
    let series = series + rest + 0.5 * rest * rest;
    series * two_to(power)
}

/// Natural logarithm of `x`, error below 1e-6 of the result or of one; the most negative finite value for anything that
/// has none.
#[must_use]
pub fn ln(x: f32) -> f32 {
    if x.is_nan() || x < f32::MIN_POSITIVE || x.is_infinite() {
        return f32::MIN;
    }
    let bits = x.to_bits();
    let exponent = (bits >> 23) as i32;
    let mantissa = f32::from_bits((bits & 0x007f_ffff) | 0x3f80_0000);
    // Centred on one, so that logarithms of numbers near one keep their digits.
    let (mantissa, exponent) = if mantissa > core::f32::consts::SQRT_2 {
        (mantissa * 0.5, exponent.saturating_sub(126))
    } else {
        (mantissa, exponent.saturating_sub(127))
    };
    let s = (mantissa - 1.0) / (mantissa + 1.0);
    let square = s * s;
    let series = 2.0 * s * (1.0 + square * (1.0 / 3.0 + square * (0.2 + square * (1.0 / 7.0 + square / 9.0))));
    series + exponent as f32 * core::f32::consts::LN_2
}

/// The larger of two numbers, of which neither is NaN: one comparison, where `f32::max` takes three calls on a processor without
/// floating point.
#[must_use]
pub const fn larger(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}

/// The smaller of two numbers, of which neither is NaN.
#[must_use]
pub const fn smaller(a: f32, b: f32) -> f32 {
    if a < b { a } else { b }
}

/// The nearest integer, halves away from zero; saturates, 0 for NaN.
#[must_use]
pub const fn round(x: f32) -> i32 {
    let bits = x.to_bits();
    let significand = (bits & 0x007f_ffff) | 0x0080_0000;
    // The exponent that leaves no part after the point is 150.
    let size = match bits << 1 >> 24 {
        exponent @ ..150 => match 150_u32.wrapping_sub(exponent) {
            // One digit too many: it decides.
            places @ ..=24 => ((significand >> places.wrapping_sub(1)).wrapping_add(1) >> 1).cast_signed(),
            _ => 0,
        },
        exponent @ ..158 => (significand << (exponent.wrapping_sub(150) & 7)).cast_signed(),
        _ if x.is_nan() => 0,
        _ => return if x.is_sign_negative() { i32::MIN } else { i32::MAX },
    };
    if x.is_sign_negative() {
        size.wrapping_neg()
    } else {
        size
    }
}

/// The least integer that is not below `x`; saturates, 0 for NaN.
#[must_use]
pub fn ceil(x: f32) -> i32 {
    let truncated = x as i32;
    if truncated as f32 >= x || x.is_nan() {
        truncated
    } else {
        truncated.saturating_add(1)
    }
}

/// `value / n` for an `n` below 2^16, the part after the point dropped: in one division of 32 bits where the value fits it, in three
/// where not; 0 for an `n` of 0.
#[must_use]
pub fn over(value: u64, n: u32) -> u64 {
    let divided = |value: u32| {
        (
            value.checked_div(n).unwrap_or_default(),
            value.checked_rem(n).unwrap_or_default(),
        )
    };
    let Ok(short) = u32::try_from(value) else {
        let [low, high] = [value, value >> 32].map(|word| (word & 0xFFFF_FFFF) as u32);
        let (first, rest) = divided(high);
        let (second, rest) = divided((rest << 16) | (low >> 16));
        let (third, _) = divided((rest << 16) | (low & 0xFFFF));
        return (u64::from(first) << 32) | u64::from((second << 16) | third);
    };
    u64::from(divided(short).0)
}

/// 2 to the power `power`, for powers that an `f32` can hold.
fn two_to(power: i32) -> f32 {
    let exponent = u32::try_from(power.saturating_add(127)).unwrap_or(0);
    f32::from_bits(exponent.min(254) << 23)
}

const INFINITE: u32 = 0x7f80_0000;
const LEAST_NORMAL: u32 = 0x0080_0000;
const TWO_TO_24: f32 = 16_777_216.0;
const TWO_TO_MINUS_12: f32 = 1.0 / 4_096.0;
