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

use crate::math::{sqrt, whole_size};
use crate::units::FineCounts;

/// The unit's own noise.
#[derive(Clone, Debug)]
pub struct Noise {
    neighbours: ClippedVariance,
    apart: ClippedVariance,
    // What follows from the two.
    sigma: f32,
    fine: u32,
    /// Times the root of what the likeness of neighbours adds to the variance of a mean.
    spread: f32,
    correlation: f32,
    /// Ticks that have taught, up to [`MEMORY`].
    weight: u16,
}

impl Noise {
    /// The starting value: the data sheet's 50 nV times 2.4, the middle of what cheap boards show, at 2 nV a count.
    pub const AT_FIRST: f32 = 60.0;

    /// A unit about which nothing is known yet.
    #[must_use]
    pub const fn new() -> Self {
        let fine = whole_size(Self::AT_FIRST * FineCounts::PER_COUNT as f32);
        let variance = ClippedVariance::new(fine.wrapping_mul(fine).wrapping_mul(2));
        Self {
            neighbours: variance,
            apart: variance,
            sigma: Self::AT_FIRST,
            fine,
            spread: Self::AT_FIRST,
            correlation: 0.0,
            weight: WEIGHT_AT_FIRST,
        }
    }

    /// Learns from a quiet tick: its differences from the ticks one and three before, sixteenths of a count.
    pub fn learn(&mut self, from_neighbour: i32, from_third: i32) {
        self.weight = self.weight.saturating_add(1).min(MEMORY);
        self.neighbours.learn(from_neighbour, self.weight);
        self.apart.learn(from_third, self.weight);
        let [neighbours, apart] = [&self.neighbours, &self.apart].map(|variance| variance.whole() as f32);
        let fine = sqrt(0.5 * apart);
        self.fine = whole_size(fine);
        self.sigma = fine * (1.0 / FineCounts::PER_COUNT as f32);
        self.correlation = (1.0 - neighbours / apart).clamp(0.0, 0.6);
        self.spread = self.sigma * sqrt(1.0 + 2.2 * self.correlation);
    }

    /// Whether enough quiet ticks have been seen to go by.
    #[must_use]
    pub const fn is_learnt(&self) -> bool {
        self.weight >= LEARNT
    }

    /// Standard deviation of one tick, counts.
    #[must_use]
    pub const fn sigma(&self) -> f32 {
        self.sigma
    }

    /// The same in sixteenths of a count, rounded down; below 2^16.
    #[must_use]
    pub const fn fine_sigma(&self) -> u32 {
        self.fine
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
        sqrt(self.variance_of_mean(n))
    }

    /// Its square, which needs no root.
    pub(super) fn variance_of_mean(&self, n: usize) -> f32 {
        (self.spread * self.spread / n.max(1) as f32).min(self.sigma * self.sigma)
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

    /// Its square, which needs no root.
    pub(super) const fn flicker_variance(&self) -> f32 {
        14.0 * 14.0 * self.sigma / Self::AT_FIRST
    }
}

impl Default for Noise {
    fn default() -> Self {
        Self::new()
    }
}

/// A mean of clipped squares that forgets slowly: square sixteenths of a count, and 256 parts of each.
#[derive(Clone, Copy, Debug)]
struct ClippedVariance(u64);

impl ClippedVariance {
    const fn new(variance: u32) -> Self {
        Self((variance as u64) << 8)
    }

    /// The mean, without the parts; at least that of [`LEAST`].
    fn whole(self) -> u32 {
        u32::try_from(self.0 >> 8).unwrap_or(u32::MAX)
    }

    /// Lets a difference count for one of `weight`.
    fn learn(&mut self, difference: i32, weight: u16) {
        let part = |apart: u64| apart.checked_div(u64::from(weight)).unwrap_or_default();
        let size = difference.unsigned_abs().min(0xFFFF);
        let square = size.wrapping_mul(size).min(self.whole().saturating_mul(CLIP * CLIP));
        let square = u64::from(square).wrapping_mul(PER_CLIPPED_SQUARE) >> 8;
        self.0 = if square > self.0 {
            self.0.wrapping_add(part(square.wrapping_sub(self.0)))
        } else {
            self.0.wrapping_sub(part(self.0.wrapping_sub(square)))
        };
        self.0 = self.0.max(LEAST);
    }
}

/// Standard deviations beyond which a difference teaches no more.
const CLIP: u32 = 3;
/// 2^16 over the mean of a standard normal's square when clipped at 3 standard deviations, 0.9893.
const PER_CLIPPED_SQUARE: u64 = 66_245;
/// Ticks that the starting value is worth.
const WEIGHT_AT_FIRST: u16 = 5;
/// Ticks after which the past is forgotten: a minute.
const MEMORY: u16 = 600;
/// Variance of a difference of two ticks below which no real converter is: 2 counts of noise each.
const LEAST: u64 = (2 * 2 * 2 * 16 * 16) << 8;
/// Ticks that make a noise figure good to a fifth.
const LEARNT: u16 = 30;
