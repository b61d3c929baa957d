//! The one place that touches micromath, so that host and Cortex-M0+ give the same bits.
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
