//! Whether the level may be trusted: a vote of small decision trees over the [features](super::features).
//!
//! Each tree asks four questions of the kind "is this feature above that number?" and adds the value of the leaf it ends in; the sum
//! is the logarithm of the odds that nothing but the load acts on the pan, in 64ths. The trees were grown by gradient boosting on
//! simulated handlings (their tables say how to grow them again). They can only refuse what noise alone would allow: the
//! estimator also wants a settled segment whose mean is good enough.

use crate::converter::SampleRate;
use crate::signal::features::{Feature, Features};
use crate::signal::{trees_at_eighty, trees_at_ten};

/// One tree: its questions level by level, then its leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tree {
    /// Feature of each question, by its number.
    pub feature: [u8; QUESTIONS],
    /// The answer is "above" beyond this.
    pub threshold: [i8; QUESTIONS],
    /// What the vote gets, 64ths of a natural logarithm of odds.
    pub leaf: [i8; LEAVES],
}

impl Tree {
    /// The leaf that its questions lead to. Those below question `q` are `2 q + 1` and `2 q + 2`, for "not above" and "above".
    #[must_use]
    pub fn vote(&self, features: &Features) -> i8 {
        let mut question = 0_usize;
        while let (Some(&feature), Some(&threshold)) = (self.feature.get(question), self.threshold.get(question)) {
            let value = features.get(usize::from(feature)).copied().unwrap_or_default();
            question = question
                .wrapping_mul(2)
                .wrapping_add(1)
                .wrapping_add(usize::from(value > threshold));
        }
        let leaf = question.wrapping_sub(QUESTIONS);
        self.leaf.get(leaf).copied().unwrap_or_default()
    }
}

/// The odds that the pan is left alone by the vote of `trees`, 64ths of a natural logarithm.
#[must_use]
pub(super) fn odds(features: &Features, trees: &[Tree]) -> i32 {
    trees
        .iter()
        .map(|tree| i32::from(tree.vote(features)))
        .fold(0, i32::wrapping_add)
}

/// The trees for conversions at `rate`.
#[must_use]
pub(super) fn trees(rate: SampleRate) -> &'static [Tree] {
    match rate {
        SampleRate::Ten => &trees_at_ten::TREES,
        SampleRate::Eighty => &trees_at_eighty::TREES,
    }
}

/// Questions from root to leaf.
pub const DEPTH: usize = 4;
const QUESTIONS: usize = (1 << DEPTH) - 1;
const LEAVES: usize = 1 << DEPTH;
const _: () = assert!(
    trees_at_ten::LAYOUT == Feature::LAYOUT && trees_at_eighty::LAYOUT == Feature::LAYOUT,
    "the trees were grown for other features: grow them again"
);
