//! Quantiles of the normal distribution and of Student's t, in `f32`.
//!
//! Needed for prediction intervals from few records, where 1.645 would promise far too much: with three records the
//! factor is 2.92.

use core::f32::consts::{FRAC_PI_2, PI};

use crate::math::{exp, ln, sqrt};

/// The value that a standard normal variable stays below with probability `p`.
///
/// Error below 5e-5 for `p` from 1e-6 to 1 - 1e-6; outside, the value there. Source: M. J. Wichura, Algorithm AS 241 (the
/// seven-digit version), Applied Statistics 37 (1988); its coefficients from memory, checked against a reference library.
#[must_use]
pub(super) fn normal_quantile(p: f32) -> f32 {
    let p = p.clamp(1e-6, 1.0 - 1e-6);
    let q = p - 0.5;
    if (-0.425..=0.425).contains(&q) {
        let r = 0.180_625 - q * q;
        let above = ((59.109_375 * r + 159.291_13) * r + 50.434_27) * r + 3.387_132_7;
        let below = ((67.187_57 * r + 78.757_76) * r + 17.895_17) * r + 1.0;
        return q * above / below;
    }
    let r = sqrt(-ln(p.min(1.0 - p))) - 1.6;
    let above = ((0.170_238_2 * r + 1.306_728_5) * r + 2.756_815_4) * r + 1.423_437_3;
    let below = (0.120_211_33 * r + 0.737_001_6) * r + 1.0;
    let magnitude = above / below;
    if q < 0.0 { -magnitude } else { magnitude }
}

/// The value that Student's t with `freedom` degrees of freedom stays below with probability `p`.
///
/// `p` from 0.5 to 0.9995 (clamped). `freedom` may be a fraction, as Welch and Satterthwaite's formula gives it; between 1
/// and 2 the value for 1 is taken, which is on the safe side; below 1 as 1. Relative error below 1.5e-3
/// (the approximate logarithm and exponential are in it). Source: G. W. Hill, Algorithm 396, Communications of the ACM 13 (1970).
#[must_use]
pub fn student_quantile(p: f32, freedom: f32) -> f32 {
    let p = p.clamp(0.5, 0.9995);
    if freedom > 1e4 {
        return normal_quantile(p);
    }
    let both_tails = 2.0 * (1.0 - p);
    if freedom < 2.0 || freedom.is_nan() {
        return cotangent(FRAC_PI_2 * both_tails);
    }
    hill(both_tails, freedom)
}

fn hill(both_tails: f32, n: f32) -> f32 {
    let a = 1.0 / (n - 0.5);
    let b = 48.0 / (a * a);
    let c = ((20_700.0 * a / b - 98.0) * a - 16.0) * a + 96.36;
    let d = ((94.5 / (b + c) - 3.0) / b + 1.0) * sqrt(a * FRAC_PI_2) * n;
    let y = exp(ln(d * both_tails) * 2.0 / n);
    let square = if y > 0.05 + a {
        near_normal(both_tails, n, [a, b, c, d])
    } else {
        let tail = 1.0 / (((n + 6.0) / (n * y) - 0.089 * d - 0.822) * (n + 2.0) * 3.0) + 0.5 / (n + 4.0);
        (tail * y - 1.0) * (n + 1.0) / (n + 2.0) + 1.0 / y
    };
    sqrt(n * square)
}

/// Hill's expansion about the normal quantile, for all but the far tails; gives t squared over n.
fn near_normal(both_tails: f32, n: f32, [a, b, c, d]: [f32; 4]) -> f32 {
    let x = normal_quantile(0.5 * both_tails);
    let c = if n < 5.0 { c + 0.3 * (n - 4.5) * (x + 0.6) } else { c };
    let c = (((0.05 * d * x - 5.0) * x - 7.0) * x - 2.0) * x + b + c;
    let y = x * x;
    let y = (((((0.4 * y + 6.3) * y + 36.0) * y + 94.5) / c - y - 3.0) / b + 1.0) * x;
    let y = a * y * y;
    // The difference of the exponential from one loses its digits for small arguments.
    if y > 0.002 { exp(y) - 1.0 } else { y + 0.5 * y * y }
}

/// Cotangent of an angle in (0, pi/2], from the series of sine and cosine: what the quantile for one degree of freedom is.
fn cotangent(angle: f32) -> f32 {
    let (angle, complement) = if angle > 0.25 * PI {
        (FRAC_PI_2 - angle, true)
    } else {
        (angle, false)
    };
    let square = angle * angle;
    let sine = angle * (1.0 - square / 6.0 * (1.0 - square / 20.0 * (1.0 - square / 42.0)));
    let cosine = 1.0 - square / 2.0 * (1.0 - square / 12.0 * (1.0 - square / 30.0 * (1.0 - square / 56.0)));
    if complement { sine / cosine } else { cosine / sine }
}
