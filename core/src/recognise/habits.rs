//! How alike this knitter's two socks are: three kinds of knitter, and which of them this one is likely to be.

use crate::math::{exp, ln};

/// Standard deviations of the logarithm of what one sock's section took over what the other's did: even, usual and loose knitters. For
/// want of a source, the range that test knitting of equal swatches suggests (common practice, no source).
pub(super) const SPREADS: [f32; 3] = [0.05, 0.12, 0.25];

/// How likely a knitter is of each kind before anything is known of her (assumption, no source).
const AT_FIRST: [f32; 3] = [0.60, 0.30, 0.10];

/// No kind is ever excluded: hands, needles and yarns change.
const LEAST: f32 = 0.02;

/// How likely the knitter is of each kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habits([f32; 3]);

impl Default for Habits {
    fn default() -> Self {
        Self(AT_FIRST)
    }
}

impl Habits {
    /// Learns from a section of two socks: what each took, mg. Sections that say nothing are left out.
    pub fn learn(&mut self, first: i32, second: i32) {
        if first <= 0 || second <= 0 {
            return;
        }
        let apart = ln(second as f32 / first as f32);
        let Self(weights) = self;
        for (weight, spread) in weights.iter_mut().zip(SPREADS) {
            let deviations = apart / spread;
            *weight *= exp(-0.5 * deviations * deviations) / spread;
        }
        let sum: f32 = weights.iter().sum();
        for weight in weights.iter_mut() {
            // What fits no kind tells them apart no better than before.
            *weight = if sum > f32::MIN_POSITIVE {
                *weight / sum
            } else {
                1.0 / 3.0
            };
            *weight = LEAST + (1.0 - 3.0 * LEAST) * *weight;
        }
    }

    /// How likely each kind is; the sum is one.
    #[must_use]
    pub const fn weights(&self) -> [f32; 3] {
        self.0
    }
}
