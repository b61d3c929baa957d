//! Whether the level may be trusted: a vote of small decision trees over the [features](super::features).
//!
//! Each tree asks four questions of the kind "is this feature above that number?" and adds the value of the leaf it ends in; the sum
//! is the logarithm of the odds that nothing but the load acts on the pan, in 64ths. The trees were grown by gradient boosting on
//! simulated handlings (see `trees.rs` for how to grow them again). They can only refuse what noise alone would allow: the
//! estimator also wants a settled segment whose mean is good enough.

use crate::converter::SampleRate;
use crate::signal::features::Features;
use crate::signal::{trees_at_eighty, trees_at_ten};

/// One tree: its questions level by level, then its leaves.
#[derive(Clone, Copy, Debug)]
pub struct Tree {
    /// Feature of each question.
    pub feature: [u8; (1 << DEPTH) - 1],
    /// The answer is "above" beyond this.
    pub threshold: [i8; (1 << DEPTH) - 1],
    /// What the vote gets, 64ths of a natural logarithm of odds.
    pub leaf: [i8; 1 << DEPTH],
}

/// Logarithm of the odds that the pan is left alone, 64ths.
#[must_use]
pub fn score(features: &Features, rate: SampleRate) -> i16 {
    let trees: &[Tree] = match rate {
        SampleRate::Ten => &trees_at_ten::TREES,
        SampleRate::Eighty => &trees_at_eighty::TREES,
    };
    trees.iter().fold(0, |votes: i16, tree| {
        votes.saturating_add(i16::from(tree.vote(features)))
    })
}

impl Tree {
    fn vote(&self, features: &Features) -> i8 {
        let mut question: usize = 0;
        for _ in 0..DEPTH {
            let feature = self.feature.get(question).copied().unwrap_or_default();
            let value = features.get(usize::from(feature)).copied().unwrap_or_default();
            let above = value > self.threshold.get(question).copied().unwrap_or_default();
            question = question
                .wrapping_mul(2)
                .wrapping_add(1)
                .wrapping_add(usize::from(above));
        }
        let leaf = question.wrapping_sub(self.feature.len());
        self.leaf.get(leaf).copied().unwrap_or_default()
    }
}

/// Questions from root to leaf.
pub const DEPTH: usize = 4;
