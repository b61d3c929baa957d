//! What is known when MARK is pressed.

use heapless::Vec;

use super::{Amount, Elsewhere, Late};
use crate::ledger::KNOWN_PAIRS;
use crate::measured::Measured;
use crate::sock::{BowlNumber, YARNS, YarnLetter};

/// Bowls that can be meant: the nine remembered, and none.
pub const MOST_BOWLS: usize = 10;

/// A section that may be finished now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Next {
    /// Place in the plan.
    pub line: u8,
    /// What it takes.
    pub amount: Amount,
}

/// A yarn in hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Cake {
    /// Its letter.
    pub yarn: YarnLetter,
    /// What it last weighed.
    pub last: Measured,
    /// What went since, if it is this one that is on the pan: moisture taken out as well as it is known, or in the uncertainty.
    pub used: Measured,
    /// Its open sections in the order in which they are likely to be knitted, the planned one first.
    pub next: Vec<Next, 3>,
    /// What its last section took, mg: so much can be ripped back at least.
    pub before: Option<f32>,
}

/// The planned yarn in another bowl than the one that is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BowlOn {
    /// The bowl, or none.
    pub bowl: Option<BowlNumber>,
    /// What went since if it stands in that.
    pub used: Measured,
}

/// What is known when MARK is pressed.
#[derive(Clone, Debug, PartialEq)]
pub struct Situation {
    /// Net mass, with the bowl that is set.
    pub net: Measured,
    /// The yarn of the section that comes next.
    pub planned: YarnLetter,
    /// Yarns that were weighed.
    pub cakes: Vec<Cake, YARNS>,
    /// Yarns of the plan that were not weighed yet, the planned one first.
    pub fresh: Vec<YarnLetter, YARNS>,
    /// The other bowls.
    pub bowls: Vec<BowlOn, MOST_BOWLS>,
    /// The other pairs on the needles, as far as their yarns were weighed.
    pub elsewhere: Vec<Elsewhere, KNOWN_PAIRS>,
    /// Of the loads that the pan has seen since the planned yarn's last weight: the one on which a forgotten mark fits best.
    pub late: Option<Late>,
    /// How many loads there were on which one can have belonged.
    pub visits: u8,
}

impl Situation {
    /// The planned yarn, if it was weighed before.
    #[must_use]
    pub fn planned(&self) -> Option<&Cake> {
        self.cakes.iter().find(|cake| cake.yarn == self.planned)
    }
}
