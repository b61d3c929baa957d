//! Square root, exponential and logarithm: the same bits on host and Cortex-M0+. The one place that touches micromath.
//!
//! micromath's own square root is off by up to 6 %; two Newton steps bring it to the last bits of an `f32`.

/// Square root of `x`; 0 for anything that has none (negative, NaN).
#[must_use]
pub fn sqrt(x: f32) -> f32 {
    if x.is_nan() || x <= 0.0 || x.is_infinite() {
        return 0.0;
    }
    #[allow(clippy::disallowed_methods, reason = "the one place that may call it")]
    let rough = micromath::F32Ext::sqrt(x);
    let once = 0.5 * (rough + x / rough);
    0.5 * (once + x / once)
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

/// The nearest integer, halves away from zero; saturates, 0 for NaN.
#[must_use]
pub fn round(x: f32) -> i32 {
    (if x < 0.0 { x - 0.5 } else { x + 0.5 }) as i32
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

/// 2 to the power `power`, for powers that an `f32` can hold.
fn two_to(power: i32) -> f32 {
    let exponent = u32::try_from(power.saturating_add(127)).unwrap_or(0);
    f32::from_bits(exponent.min(254) << 23)
}
