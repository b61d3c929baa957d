//! Least squares for a handful of calibration points, in `f32`.
//!
//! `f32` carries seven digits and the normal equations of a parabola would lose most of them. So abscissae are centred and scaled to
//! about ±1, and the parabola is built from polynomials made orthogonal over the points (Forsythe's method): each coefficient is then
//! one quotient of sums, and the sums are of small terms. Sums keep what a single addition loses (Neumaier's compensation).

use crate::math::sqrt;

/// A fitted line or parabola `y = b0 + b1 x + b2 x²` in the caller's own units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Value at x = 0.
    pub b0: f32,
    /// Slope at x = 0.
    pub b1: f32,
    /// Coefficient of x², 0 for a line.
    pub b2: f32,
    /// Residual standard deviation, `sqrt(sum of squares / (n − parameters))`; 0 if there are no more points than parameters.
    pub residual_sd: f32,
    /// Standard deviation of the slope from the residuals.
    pub slope_sd: f32,
}

impl Fit {
    /// The fitted value at `x`.
    #[must_use]
    pub fn at(&self, x: f32) -> f32 {
        self.b0 + x * (self.b1 + x * self.b2)
    }
}

/// Fits a straight line; `None` if the points do not determine one.
#[must_use]
pub fn line(points: &[(f32, f32)]) -> Option<Fit> {
    polynomial(points, 1)
}

/// Fits a parabola; `None` if the points do not determine one.
#[must_use]
pub fn parabola(points: &[(f32, f32)]) -> Option<Fit> {
    polynomial(points, 2)
}

/// Fits `y = b x`; `None` if no point lies off the origin.
#[must_use]
pub fn proportional(points: &[(f32, f32)]) -> Option<Fit> {
    let squares = sum(points.iter().map(|&(x, _)| x * x));
    if squares <= 0.0 {
        return None;
    }
    let b1 = sum(points.iter().map(|&(x, y)| x * y)) / squares;
    let misses = sum(points.iter().map(|&(x, y)| (y - b1 * x) * (y - b1 * x)));
    let residual_sd = sqrt(misses / points.len().saturating_sub(1).max(1) as f32);
    let slope_sd = residual_sd / sqrt(squares);
    Some(Fit {
        b0: 0.0,
        b1,
        b2: 0.0,
        residual_sd,
        slope_sd,
    })
}

fn polynomial(points: &[(f32, f32)], degree: usize) -> Option<Fit> {
    let count = points.len();
    if count <= degree {
        return None;
    }
    let n = count as f32;
    let middle = sum(points.iter().map(|&(x, _)| x)) / n;
    let reach = points.iter().map(|&(x, _)| (x - middle).abs()).fold(0.0, f32::max);
    let centre = sum(points.iter().map(|&(_, y)| y)) / n;
    if !(reach.is_finite() && reach > 0.0 && centre.is_finite()) {
        return None;
    }
    let scaled = |x: f32| (x - middle) / reach;
    // P0 = 1, P1 = t − a, P2 = t² − c P1 − d, orthogonal over the points.
    let a = sum(points.iter().map(|&(x, _)| scaled(x))) / n;
    let p1 = |x: f32| scaled(x) - a;
    let norm1 = sum(points.iter().map(|&(x, _)| p1(x) * p1(x)));
    let q0 = sum(points.iter().map(|&(_, y)| y - centre)) / n;
    let q1 = sum(points.iter().map(|&(x, y)| (y - centre) * p1(x))) / norm1;
    let c = sum(points.iter().map(|&(x, _)| p1(x) * p1(x) * p1(x))) / norm1;
    let d = norm1 / n;
    let p2 = |x: f32| p1(x) * p1(x) - c * p1(x) - d;
    let q2 = if degree == 2 {
        let norm2 = sum(points.iter().map(|&(x, _)| p2(x) * p2(x)));
        // Two distinct abscissae, however often repeated, do not bend.
        if norm2 <= n * 1e-9 {
            return None;
        }
        sum(points.iter().map(|&(x, y)| (y - centre - q0 - q1 * p1(x)) * p2(x))) / norm2
    } else {
        0.0
    };
    let misses = sum(points.iter().map(|&(x, y)| {
        let miss = y - centre - q0 - q1 * p1(x) - q2 * p2(x);
        miss * miss
    }));
    let freedom = count.saturating_sub(degree).saturating_sub(1);
    let residual_sd = if freedom == 0 {
        0.0
    } else {
        sqrt(misses / freedom as f32)
    };
    // Back to the caller's units: with u = t − a = x / reach + o, y = centre + q0 − q2 d + (q1 − q2 c) u + q2 u².
    let o = -middle / reach - a;
    let bend = q2;
    let tilt = q1 - q2 * c;
    Some(Fit {
        b0: centre + (q0 - q2 * d + o * (tilt + o * bend)),
        b1: (tilt + 2.0 * o * bend) / reach,
        b2: bend / (reach * reach),
        residual_sd,
        slope_sd: residual_sd / (sqrt(norm1) * reach),
    })
}

/// A sum that carries along what each addition rounded off.
pub fn sum(terms: impl Iterator<Item = f32>) -> f32 {
    let (total, lost) = terms.fold((0.0f32, 0.0f32), |(total, lost), term| {
        let next = total + term;
        let rounded_off = if total.abs() >= term.abs() {
            (total - next) + term
        } else {
            (term - next) + total
        };
        (next, lost + rounded_off)
    });
    total + lost
}
