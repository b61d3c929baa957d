//! Whether the level may be trusted: a vote of small decision trees over the [features](super::features).
//!
//! Each tree asks four questions of the kind "is this feature above that number?" and adds the value of the leaf it ends in; the sum
//! is the logarithm of the odds that nothing but the load acts on the pan, in 64ths. The trees were grown by gradient boosting on
//! simulated handlings (see `trees.rs` for how to grow them again). They can only refuse what noise alone would allow: the
//! estimator also wants a settled segment whose mean is good enough.

use crate::converter::SampleRate;
use crate::signal::features::{COUNT, Features};
#[cfg(feature = "eighty")]
use crate::signal::trees_at_eighty;
#[cfg(feature = "ten")]
use crate::signal::trees_at_ten;

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

/// Whether the odds that the pan is left alone reach `enough`, 64ths of a natural logarithm.
///
/// The trees vote until those that are left cannot change the outcome.
#[must_use]
#[inline(never)]
pub fn reaches(features: &Features, rate: SampleRate, enough: i16) -> bool {
    let forest = match rate {
        #[cfg(feature = "ten")]
        SampleRate::Ten => &AT_TEN,
        #[cfg(feature = "eighty")]
        SampleRate::Eighty => &AT_EIGHTY,
        // Nobody gives these a hearing: see `can_judge`.
        #[cfg(not(all(feature = "ten", feature = "eighty")))]
        _ => return false,
    };
    let mut asked = [0; SLOTS];
    for (slot, &feature) in asked.iter_mut().zip(features) {
        *slot = i32::from(feature);
    }
    let mut votes: i32 = 0;
    let enough = i32::from(enough);
    for (trees, rest) in forest.trees.chunks_exact(GROUP).zip(&forest.rest) {
        for tree in trees {
            votes = votes.wrapping_add(tree.vote(&asked));
        }
        if votes.wrapping_add(i32::from(rest.least)) >= enough {
            return true;
        }
        if votes.wrapping_add(i32::from(rest.most)) < enough {
            return false;
        }
    }
    votes >= enough
}

/// Trees as they are asked: arrays of powers of two, so that no index needs a check, the questions numbered from 1.
struct Forest {
    trees: [Packed; TREES],
    /// What all trees after each group can still say.
    rest: [Rest; TREES / GROUP],
}

#[derive(Clone, Copy)]
struct Packed {
    feature: [u8; QUESTIONS],
    threshold: [i8; QUESTIONS],
    leaf: [i8; QUESTIONS],
}

#[derive(Clone, Copy)]
struct Rest {
    least: i16,
    most: i16,
}

impl Packed {
    #[inline(always)]
    fn vote(&self, asked: &[i32; SLOTS]) -> i32 {
        let question = self.next(1, asked);
        let question = self.next(question, asked);
        let question = self.next(question, asked);
        let leaf = self.next(question, asked);
        i32::from(self.leaf.get(leaf & (QUESTIONS - 1)).copied().unwrap_or_default())
    }

    /// The question after `question`.
    #[inline(always)]
    fn next(&self, question: usize, asked: &[i32; SLOTS]) -> usize {
        let at = question & (QUESTIONS - 1);
        let feature = self.feature.get(at).copied().unwrap_or_default();
        let value = asked
            .get(usize::from(feature) & (SLOTS - 1))
            .copied()
            .unwrap_or_default();
        let threshold = i32::from(self.threshold.get(at).copied().unwrap_or_default());
        // "Above" as the sign of a difference: no branch.
        let above = (threshold.wrapping_sub(value).cast_unsigned() >> 31) as usize;
        question.wrapping_mul(2).wrapping_add(above)
    }
}

#[allow(
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    reason = "done by the compiler: a mistake would not compile"
)]
const fn forest(trees: &[Tree; TREES]) -> Forest {
    let none = Packed {
        feature: [0; QUESTIONS],
        threshold: [0; QUESTIONS],
        leaf: [0; QUESTIONS],
    };
    let mut forest = Forest {
        trees: [none; TREES],
        rest: [Rest { least: 0, most: 0 }; TREES / GROUP],
    };
    let mut order = [(0, 0, 0); TREES];
    let mut index = 0;
    while index < TREES {
        let (mut least, mut most) = (i8::MAX, i8::MIN);
        let mut at = 0;
        while at < QUESTIONS {
            let leaf = trees[index].leaf[at];
            least = if leaf < least { leaf } else { least };
            most = if leaf > most { leaf } else { most };
            at += 1;
        }
        // Into its place among those before it: those with the most to say vote first.
        let mut place = index;
        while place > 0 && order[place - 1].2 - order[place - 1].1 < most as i16 - least as i16 {
            order[place] = order[place - 1];
            place -= 1;
        }
        order[place] = (index, least as i16, most as i16);
        index += 1;
    }
    let (mut least, mut most) = (0, 0);
    while index > 0 {
        if index.is_multiple_of(GROUP) {
            forest.rest[index / GROUP - 1] = Rest { least, most };
        }
        index -= 1;
        let (from, to) = (&trees[order[index].0], &mut forest.trees[index]);
        let mut at = 0;
        while at < QUESTIONS {
            if at > 0 {
                to.feature[at] = from.feature[at - 1];
                to.threshold[at] = from.threshold[at - 1];
            }
            to.leaf[at] = from.leaf[at];
            at += 1;
        }
        least += order[index].1;
        most += order[index].2;
    }
    forest
}

/// Whether this build has the trees for `rate`; without them nothing is ever steady.
#[must_use]
pub const fn can_judge(rate: SampleRate) -> bool {
    match rate {
        SampleRate::Ten => cfg!(feature = "ten"),
        SampleRate::Eighty => cfg!(feature = "eighty"),
    }
}

#[cfg(feature = "ten")]
static AT_TEN: Forest = forest(&trees_at_ten::TREES);
#[cfg(feature = "eighty")]
static AT_EIGHTY: Forest = forest(&trees_at_eighty::TREES);

/// Questions from root to leaf.
pub const DEPTH: usize = 4;
const QUESTIONS: usize = 1 << DEPTH;
/// Room for the features, a power of two.
const SLOTS: usize = 32;
const _: () = assert!(COUNT <= SLOTS);
/// Trees that are grown for either rate.
const TREES: usize = 120;
/// Trees after which the vote so far is looked at.
const GROUP: usize = 8;
