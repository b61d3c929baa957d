//! Weighings with rounds counted between them. They divide no section; those of the section in which rounds were counted last are kept.

use heapless::Vec;

use super::apply::{ApplyFault, Ledger, Noted};
use super::{Purpose, Step};
use crate::journal::Sequence;
use crate::sock::{Weight, YarnLetter};
use crate::units::Stamp;

/// Weighings that are kept, the newest of them.
pub(crate) const MOST_COUNTED: usize = 12;

/// One weighing with the rounds knitted before it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Counted {
    /// The record that noted it.
    pub sequence: Sequence,
    /// When it was.
    pub at: Stamp,
    /// What was left of the yarn.
    pub weight: Weight,
    /// Rounds knitted since the weighing before; 0 for the first one.
    pub rounds: u16,
}

/// All of them, of one section and yarn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Counting {
    line: u8,
    yarn: YarnLetter,
    weighings: Vec<Counted, MOST_COUNTED>,
}

impl Counting {
    pub(super) fn clear(&mut self) {
        self.weighings.clear();
    }

    /// Takes the newest weighing back, if it is this one.
    pub(super) fn undo(&mut self, of: Sequence) -> bool {
        let newest = self.weighings.last().is_some_and(|last| last.sequence == of);
        newest && self.weighings.pop().is_some()
    }
}

impl Ledger {
    pub(super) fn count(
        &mut self,
        noted: Noted,
        (line, yarn): (u8, YarnLetter),
        weight: Weight,
        rounds: u16,
    ) -> Result<(), ApplyFault> {
        if !self.open {
            return Err(ApplyFault::NoPair);
        }
        self.known(line, yarn)?;
        let counting = &mut self.counting;
        if rounds == 0 || (counting.line, counting.yarn) != (line, yarn) {
            counting.clear();
        }
        (counting.line, counting.yarn) = (line, yarn);
        if counting.weighings.is_full() {
            counting.weighings.remove(0);
            if let Some(first) = counting.weighings.first_mut() {
                first.rounds = 0;
            }
        }
        // There is room now.
        let _ = counting.weighings.push(Counted {
            sequence: noted.sequence,
            at: noted.at,
            weight,
            rounds,
        });
        Ok(())
    }

    /// The weighings with counted rounds of a section, oldest first.
    #[must_use]
    pub fn counted(&self, line: u8, yarn: YarnLetter) -> &[Counted] {
        if (self.counting.line, self.counting.yarn) == (line, yarn) {
            &self.counting.weighings
        } else {
            &[]
        }
    }

    /// What a counted weighing is compared with: the one before it, or a weight of the yarn that was noted between the two.
    #[must_use]
    pub fn before_counted(&self, line: u8, yarn: YarnLetter, place: usize) -> Option<Step> {
        let counted = self.counted(line, yarn);
        let number = counted.get(place)?.sequence;
        let step = self.steps().iter().rev();
        let step = step
            .filter(|step| step.yarn == yarn && step.sequence < number)
            .copied()
            .next();
        let before = place.checked_sub(1).and_then(|before| counted.get(before));
        match (before, step) {
            (Some(before), Some(step)) if step.sequence > before.sequence => Some(step),
            (Some(before), _) => Some(before.as_step(yarn)),
            (None, step) => step,
        }
    }
}

impl Counted {
    /// The same as a step of its yarn, to go from.
    #[must_use]
    pub const fn as_step(&self, yarn: YarnLetter) -> Step {
        Step {
            sequence: self.sequence,
            at: self.at,
            yarn,
            weight: self.weight,
            purpose: Purpose::Unplanned,
            apart: None,
            amended: false,
            late: false,
            pushed_on: None,
            doubtful: false,
        }
    }
}
