//! The meanings that a press can have.

use crate::sock::{BowlNumber, YarnLetter};
use crate::units::Milligrams;

/// What a press of MARK can mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Meaning {
    /// A section is finished; what it took.
    Section {
        /// Place in the plan.
        line: u8,
        /// Its yarn.
        yarn: YarnLetter,
        /// What it took.
        used: Milligrams,
    },
    /// The same, and it stands in another bowl than is set, or in none.
    OtherBowl {
        /// The bowl that it stands in.
        bowl: Option<BowlNumber>,
        /// Place in the plan.
        line: u8,
        /// Its yarn.
        yarn: YarnLetter,
        /// What it took.
        used: Milligrams,
    },
    /// A section is finished, and the one before it was not marked: what both took together.
    Forgotten {
        /// Place in the plan of the section that is finished now.
        line: u8,
        /// Their yarn.
        yarn: YarnLetter,
        /// What all took.
        used: Milligrams,
        /// The pan has seen the cake where the mark belonged.
        seen: bool,
    },
    /// The first weight of a yarn of the plan.
    FirstWeight(YarnLetter),
    /// This yarn has not been touched since it was last weighed.
    Untouched(YarnLetter),
    /// The yarn is heavier than it last was, since some was ripped back.
    RippedBack(YarnLetter),
    /// A cake or leftover that is not in the plan's hand.
    UnknownCake,
    /// A cake of another pair that is on the needles.
    OtherPair {
        /// The pair.
        pair: u16,
        /// Its letter there.
        yarn: YarnLetter,
    },
    /// A yarn of another pair, as it was last weighed there: it goes on in this one.
    GoesOn {
        /// The other pair.
        pair: u16,
        /// Its letter there.
        yarn: YarnLetter,
    },
    /// Two cakes at once.
    TwoCakes,
    /// A bowl or bag that was never tared.
    UnknownBowl,
    /// The section is not finished.
    Early,
    /// Something else lies on the pan, or pulls at it.
    Disturbed,
    /// The cake is damp.
    Damp,
    /// Anything else.
    Anything,
}

/// A meaning and how likely it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Considered {
    /// What it means.
    pub meaning: Meaning,
    /// Its share of all that is considered, 0 to 1.
    pub share: f32,
}
