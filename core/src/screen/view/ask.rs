//! Questions.

use heapless::Vec;

use crate::journal::BowlNumber;
use crate::ledger::YarnLetter;
use crate::units::Milligrams;

/// The scale asks which of a few things is meant.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Why it asks.
    pub why: WhyAsked,
    /// What is on the pan.
    pub weight: Milligrams,
    /// What can be meant.
    pub choices: Vec<Choice, 6>,
    /// The highlighted one.
    pub selected: u8,
}

/// Why the scale asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyAsked {
    /// More than one yarn can weigh this.
    Ambiguous,
    /// Heavier than the yarn last weighed: another cake, another bowl, damp?
    Heavier {
        /// The section's yarn.
        yarn: YarnLetter,
        /// By how much.
        by: Milligrams,
    },
    /// Much lighter than expected: a forgotten press, or another cake?
    Lighter {
        /// The section's yarn.
        yarn: YarnLetter,
        /// By how much in all.
        by: Milligrams,
    },
    /// The same as at the last mark: pressed twice?
    Unchanged {
        /// The section's yarn.
        yarn: YarnLetter,
    },
    /// The pan is empty: is the yarn used up?
    UsedUp {
        /// The section's yarn.
        yarn: YarnLetter,
    },
    /// It weighs what another yarn last weighed.
    OtherYarn {
        /// The section's yarn.
        planned: YarnLetter,
        /// The yarn it looks like.
        found: YarnLetter,
    },
}

/// What can be meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The planned section took it, from this yarn.
    Section {
        /// The yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// The planned section took it, and it stands in another bowl, or in none.
    OtherBowl {
        /// The bowl.
        bowl: Option<BowlNumber>,
        /// The yarn.
        yarn: YarnLetter,
        /// What it would have taken.
        used: Milligrams,
    },
    /// A yarn that is weighed in now.
    WeighIn(YarnLetter),
    /// Start from here: nobody's section.
    StartFromHere(YarnLetter),
    /// Forget the press.
    NotNow,
}
