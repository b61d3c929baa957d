//! How large this pair is: what its finished sections took beside what such sections usually take. Who knits a long leg for a large foot
//! will knit a large heel.

use crate::math::{exp, ln, sqrt};

/// Share of the variance between knitters that the sections of one sock have in common: foot, gauge and yarn; the rest is taste (assumption,
/// no source).
const SHARED: f32 = 0.49;

/// What the finished sections of a pair say of those to come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PairSize {
    count: f32,
    sum: f32,
    squares: f32,
}

impl PairSize {
    /// Learns from a section that took so much, where so much was expected, both mg. One that took nothing says nothing.
    pub fn learn(&mut self, used: f32, expected: f32) {
        if used >= 1.0 {
            let apart = ln(used / expected);
            self.count += 1.0;
            self.sum += apart;
            self.squares += apart * apart;
        }
    }

    /// By what factor more than usual the next section will take.
    #[must_use]
    pub fn factor(&self) -> f32 {
        exp(SHARED * self.sum / self.variance_of_sum())
    }

    /// By what factor its spread is less than before anything was known.
    #[must_use]
    pub fn narrows(&self) -> f32 {
        sqrt(1.0 - SHARED + SHARED * (1.0 - SHARED) / self.variance_of_sum())
    }

    /// How well what is known fits a spread, relative to other spreads.
    #[must_use]
    pub fn fits(&self, spread: f32) -> f32 {
        let mean = self.sum / self.count.max(1.0);
        let taste = (self.squares - self.sum * mean) / (1.0 - SHARED);
        let size = self.sum * mean / self.variance_of_sum();
        exp(-0.5 * (taste + size) / (spread * spread) - self.count * ln(spread))
    }

    /// Variance of the sum of what is known over its count, in squares of the spread.
    fn variance_of_sum(&self) -> f32 {
        1.0 - SHARED + SHARED * self.count
    }
}
