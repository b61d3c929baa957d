//! Dry yet? A pair after washing and blocking: how far from its conditioned weight, and since when it no longer falls.

use crate::math::{ceil, rss};
use crate::measured::Measured;
use crate::units::{Milligrams, Stamp};

/// The drying of one pair: what its weighings say so far. Constant memory, however often it is weighed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Drying {
    conditioned: Measured,
    last: Option<(Stamp, Measured)>,
    /// The weight from which it has not fallen since, and when it was seen.
    floor: Option<(Stamp, Measured)>,
    /// It has become lighter at least once: what lies still from the first weighing on does not dry.
    fell: bool,
}

/// How dry a pair is.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Dryness {
    /// The word.
    pub word: DryWord,
    /// Last weight minus conditioned weight.
    pub above: Measured,
    /// For how long it has not fallen, seconds; 0 while it falls.
    pub still: u32,
}

/// The word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum DryWord {
    /// Weighed once, or never seen to fall and not for long enough: nothing to compare with.
    WeighAgain,
    /// It still falls, or has fallen and not been still for long enough to tell.
    Drying,
    /// It has not fallen for three hours and is above its conditioned weight: the air is damp, or something was added.
    Stalled,
    /// Back at its conditioned weight.
    Dry,
}

impl Drying {
    /// Begins with the weight that the pair had, conditioned, before washing: its own, or the sum of its sections. The
    /// uncertainty should hold the moisture of the days between.
    #[must_use]
    pub const fn new(conditioned: Measured) -> Self {
        Self {
            conditioned,
            last: None,
            floor: None,
            fell: false,
        }
    }

    /// Takes a weighing. One that is not later than the last is passed over.
    pub fn weigh(&mut self, at: Stamp, weight: Measured) {
        if self.last.is_some_and(|(before, _)| at <= before) {
            return;
        }
        self.last = Some((at, weight));
        // Compared with where the floor was set, not with the last weighing: many small falls are one fall.
        let fell = |&(_, floor): &(Stamp, Measured)| {
            let doubt = Milligrams(ceil(2.0 * rss(floor.u, weight.u)));
            weight.value + doubt.max(LEAST_FALL) < floor.value
        };
        let fallen = self.floor.as_ref().is_some_and(fell);
        self.fell |= fallen;
        if fallen || self.floor.is_none() {
            self.floor = Some((at, weight));
        }
    }

    /// What the weighings say; `None` before the first.
    #[must_use]
    pub fn dryness(&self) -> Option<Dryness> {
        let (at, weight) = self.last?;
        let (since, _) = self.floor?;
        let above = weight.minus(self.conditioned);
        let still = at.0.saturating_sub(since.0);
        let back = above.value <= Milligrams(ceil(2.0 * above.u)).max(LEAST_FALL);
        let word = match still {
            _ if back => DryWord::Dry,
            STILL.. => DryWord::Stalled,
            _ if self.fell => DryWord::Drying,
            _ => DryWord::WeighAgain,
        };
        Some(Dryness { word, above, still })
    }
}

/// A pair counts as no longer falling after this many seconds: three hours, in which a damp pair in a room loses grams.
const STILL: u32 = 3 * 3_600;

/// A fall of one division at least.
const LEAST_FALL: Milligrams = Milligrams(100);
