//! A step of a yarn: one weight, and what the mass that went since the last weight went into.

use crate::journal::Sequence;
use crate::sock::{Weight, YarnLetter};
use crate::units::Stamp;

/// Most steps one pair can have: three for each line of the longest plan, and as many again for the unforeseen.
pub const MAX_STEPS: usize = 96;

/// One weight of a yarn in the running pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The record that noted it.
    pub sequence: Sequence,
    /// When it was weighed.
    pub at: Stamp,
    /// Which yarn.
    pub yarn: YarnLetter,
    /// What it weighed.
    pub weight: Weight,
    /// Where the mass since the yarn's last weight went.
    pub purpose: Purpose,
    /// What went since this earlier step is known better than from two weights, with this standard uncertainty in mg.
    pub apart: Option<(Sequence, f32)>,
    /// The weight was corrected after it was noted.
    pub amended: bool,
    /// Set afterwards on an earlier visit.
    pub late: bool,
    /// The later mark that this one pushed on to another section, and what that one closed before.
    pub pushed_on: Option<(Sequence, Purpose)>,
    /// A record beside it was damaged, so that something may be missing.
    pub doubtful: bool,
}

/// Where the mass between two weights of a yarn went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Nowhere: this is a first weight.
    WeighIn,
    /// Into the section at this place of the plan.
    Section(u8),
    /// Into no section.
    Unplanned,
    /// Into no section; and what is left goes on in the pair of this number: the yarn's chain ends here.
    Carried(u16),
}

impl Step {
    /// The weight is corrected.
    pub(super) const fn amend(&mut self, weight: Weight) {
        self.weight = weight;
        self.amended = true;
    }

    /// Whether the yarn's chain ends with it.
    #[must_use]
    pub const fn ends(&self) -> bool {
        matches!(self.purpose, Purpose::Carried(_))
    }

    /// Whether it closed a section.
    pub(super) const fn is_section(&self) -> bool {
        matches!(self.purpose, Purpose::Section(_))
    }
}
