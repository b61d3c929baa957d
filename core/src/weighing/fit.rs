//! Least squares for a handful of calibration points, in `f32`.
//!
//! Two kinds of points: those counted from the origin, and those that stand on something of unknown weight, which shares one offset
//! that is found along with the curve.
//!
//! `f32` carries seven digits and the normal equations of a parabola would lose most of them. So abscissae are scaled to about 1, the
//! offset is taken out by means, and the parabola is built from polynomials made orthogonal over the points (Forsythe's method): each
//! coefficient is then one quotient of sums. Sums keep what a single addition loses (Neumaier's compensation).

use crate::math::{rss, sqrt};

/// A fitted line or parabola `y = b0 + b1 x + b2 x²` in the caller's own units; `b0` is the offset, and not of the points from the origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fit {
    /// The offset, 0 if no point has one.
    pub b0: f32,
    /// Slope at x = 0.
    pub b1: f32,
    /// Coefficient of x², 0 for a line.
    pub b2: f32,
    /// Residual standard deviation, `sqrt(sum of squares / (n − parameters))`; 0 if there are no more points than parameters.
    pub residual_sd: f32,
    /// Standard deviation of the slope for a residual standard deviation of 1.
    pub slope_sd: f32,
    /// Standard deviation of `b2` for a residual standard deviation of 1, 0 for a line.
    pub bend_sd: f32,
    /// Where, besides 0, the slope alone decides on the rise.
    pub crossing: f32,
}

impl Fit {
    /// The fitted value at `x` above that at 0.
    #[must_use]
    pub(super) fn rise(&self, x: f32) -> f32 {
        x * (self.b1 + x * self.b2)
    }

    /// Standard deviation of the rise for a residual standard deviation of 1.
    #[must_use]
    pub(super) fn rise_sd(&self, x: f32) -> f32 {
        rss(self.slope_sd * x, self.bend_sd * x * (x - self.crossing))
    }
}

/// Fits a line (`degree` 1) or a parabola (2) through `known` from the origin and through `offset` with an offset; `None` if the points do
/// not determine one.
#[must_use]
#[inline(never)]
pub(super) fn polynomial(known: &[(f32, f32)], offset: &[(f32, f32)], degree: usize) -> Option<Fit> {
    let parameters = degree.saturating_add(usize::from(!offset.is_empty()));
    let freedom = known.len().saturating_add(offset.len()).checked_sub(parameters)?;
    let n = (offset.len() as f32).max(1.0);
    let mean = |of: &dyn Fn(f32, f32) -> f32| sum(offset.iter().map(|&(x, y)| of(x, y))) / n;
    let middle = mean(&|x, _| x);
    let reach = known
        .iter()
        .map(|&(x, _)| x)
        .chain(offset.iter().map(|&(x, _)| x - middle))
        .fold(0.0_f32, |reach, x| reach.max(x.abs()));
    let centre = mean(&|_, y| y);
    if !(reach.is_finite() && reach > 0.0 && centre.is_finite()) {
        return None;
    }
    // Abscissae t and their squares, about the means of the points with the offset: 0 for those from the origin.
    let a = middle / reach;
    let d = mean(&|x, _| square((x - middle) / reach));
    let over = |term: &dyn Fn(f32, f32, f32) -> f32| {
        let from_origin = known.iter().map(|&(x, y)| term(x / reach, square(x / reach), y));
        let with_offset = offset.iter().map(|&(x, y)| {
            let t = (x - middle) / reach;
            term(t, square(t) - d + 2.0 * a * t, y - centre)
        });
        sum(from_origin.chain(with_offset))
    };
    let norm1 = over(&|t, _, _| t * t);
    let q1 = over(&|t, _, y| t * y) / norm1;
    let mut c = 0.0;
    let mut q2 = 0.0;
    let mut bend_sd = 0.0;
    if degree == 2 {
        c = over(&|t, v, _| t * v) / norm1;
        let norm2 = over(&|t, v, _| square(v - c * t));
        // Two distinct abscissae, however often repeated, do not bend.
        if norm2 <= norm1 * 1e-8 {
            return None;
        }
        q2 = over(&|t, v, y| (y - q1 * t) * (v - c * t)) / norm2;
        bend_sd = 1.0 / (sqrt(norm2) * reach * reach);
    }
    let misses = over(&|t, v, y| square(y - q1 * t - q2 * (v - c * t)));
    let b1 = (q1 - q2 * c) / reach;
    let b2 = q2 / (reach * reach);
    Some(Fit {
        b0: centre - middle * b1 - (d * reach * reach + middle * middle) * b2,
        b1,
        b2,
        residual_sd: if freedom == 0 {
            0.0
        } else {
            sqrt(misses / freedom as f32)
        },
        slope_sd: 1.0 / (sqrt(norm1) * reach),
        bend_sd,
        crossing: c * reach,
    })
}

fn square(x: f32) -> f32 {
    x * x
}

/// A sum that carries along what each addition rounded off.
pub(super) fn sum(terms: impl Iterator<Item = f32>) -> f32 {
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
