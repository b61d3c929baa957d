//! What this unit's rest looks like: the spread of its ticks and how far neighbours resemble each other.
//!
//! Nothing is assumed but a starting value; every quiet tick teaches. Differences between ticks do not see the load or its slow
//! drift. With variance `s²` and correlation `r1`, `r3` of ticks one and three apart, differences have the variances
//! `2 s² (1 − r1)` and `2 s² (1 − r3)`. The converter's filter lasts four conversions (a fourfold running mean: correlations
//! 0.49, 0.05, 0.0004), so that `r3 = 0` and both follow: `s² = v3 / 2`, `r1 = 1 − v1 / v3`.
//!
//! Each variance is a mean of squares clipped at three standard deviations, so that a touch that looked like rest for a moment
//! cannot teach much; the expectation of a clipped normal square, 0.9893 (computed), is divided out. The starting value counts
//! as a few ticks and is soon outvoted.

use crate::math::{larger, smaller, sqrt};

/// The unit's own noise.
#[derive(Clone, Debug)]
pub struct Noise {
    neighbours: ClippedVariance,
    apart: ClippedVariance,
    // What follows from the two, kept since it is asked for a dozen times between two lessons, and roots and quotients are dear on a
    // processor without floating point.
    sigma: f32,
    correlation: f32,
    /// Ticks that have taught, up to [`MEMORY`].
    weight: f32,
}

impl Noise {
    /// The starting value: the data sheet's 50 nV times 2.4, the middle of what cheap boards show, at 2 nV a count.
    pub const AT_FIRST: f32 = 60.0;

    /// A unit about which nothing is known yet.
    #[must_use]
    pub const fn new() -> Self {
        let variance = 2.0 * Self::AT_FIRST * Self::AT_FIRST;
        Self {
            neighbours: ClippedVariance::new(variance),
            apart: ClippedVariance::new(variance),
            sigma: Self::AT_FIRST,
            correlation: 0.0,
            weight: WEIGHT_AT_FIRST,
        }
    }

    /// Learns from a quiet tick: its differences, in counts, from the ticks one and three before.
    #[inline(never)]
    pub fn learn(&mut self, from_neighbour: f32, from_third: f32) {
        let share = if self.weight < MEMORY {
            self.weight += 1.0;
            1.0 / self.weight
        } else {
            1.0 / MEMORY
        };
        self.neighbours.learn(from_neighbour, share);
        self.apart.learn(from_third, share);
        self.sigma = larger(sqrt(0.5 * self.apart.variance), LEAST);
        self.correlation = (1.0 - self.neighbours.variance / larger(self.apart.variance, 1.0)).clamp(0.0, 0.6);
    }

    /// Whether enough quiet ticks have been seen to go by.
    #[must_use]
    pub fn is_learnt(&self) -> bool {
        self.weight >= LEARNT
    }

    /// Standard deviation of one tick, counts.
    #[must_use]
    pub const fn sigma(&self) -> f32 {
        self.sigma
    }

    /// Standard deviation of one tick as its neighbours show it, counts: `s sqrt(1 − r1)`.
    #[must_use]
    pub fn sigma_between_neighbours(&self) -> f32 {
        sqrt(0.5 * self.neighbours.variance).max(LEAST * 0.5)
    }

    /// Correlation of neighbouring ticks, 0 to 0.6.
    #[must_use]
    pub const fn correlation(&self) -> f32 {
        self.correlation
    }

    /// Standard error of the mean of `n` ticks, counts: `s sqrt(c / n)` with `c = 1 + 2 (r1 + r2)`; 2.09 for the filter's own
    /// correlations, 1 for white noise; never more than one tick's.
    #[must_use]
    pub fn standard_error(&self, n: usize) -> f32 {
        let inflation = 1.0 + 2.2 * self.correlation;
        self.sigma * sqrt(smaller(inflation / n.max(1) as f32, 1.0))
    }

    /// Wander of the level over about ten seconds that no averaging removes, counts (k = 1). Flicker noise of such amplifiers is
    /// taken as 14 counts for each root of a decade of time at the middling unit, growing with the root of the noise.
    #[must_use]
    pub fn flicker(&self) -> f32 {
        Self::flicker_of(self.sigma)
    }

    /// The same for a unit with this standard deviation of one tick, counts.
    #[must_use]
    pub fn flicker_of(sigma: f32) -> f32 {
        14.0 * sqrt(sigma / Self::AT_FIRST)
    }
}

impl Default for Noise {
    fn default() -> Self {
        Self::new()
    }
}

/// A mean of clipped squares that forgets slowly.
#[derive(Clone, Debug)]
struct ClippedVariance {
    variance: f32,
}

impl ClippedVariance {
    const fn new(variance: f32) -> Self {
        Self { variance }
    }

    /// Lets a difference count for `share` of the mean.
    fn learn(&mut self, difference: f32, share: f32) {
        let square = smaller(difference * difference, CLIP * CLIP * self.variance) * (1.0 / CLIPPED_SQUARE);
        self.variance = larger(self.variance + (square - self.variance) * share, LEAST * LEAST);
    }
}

/// Standard deviations beyond which a difference teaches no more.
const CLIP: f32 = 3.0;
/// Mean of a standard normal's square when clipped at 3 standard deviations.
const CLIPPED_SQUARE: f32 = 0.989_3;
/// Ticks that the starting value is worth.
const WEIGHT_AT_FIRST: f32 = 5.0;
/// Ticks after which the past is forgotten: a minute.
const MEMORY: f32 = 600.0;
/// A real converter is never quieter than this, counts.
const LEAST: f32 = 2.0;
/// Ticks that make a noise figure good to a fifth.
const LEARNT: f32 = 30.0;
