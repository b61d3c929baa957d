//! A yarn that goes on in another pair: one record ends its chain here and begins it there, and what changes that record changes both.

use super::apply::{ApplyFault, Ledger, Noted};
use super::pair::Pair;
use super::{Purpose, Step};
use crate::journal::{PairEvent, Sequence};

impl Pair<'_> {
    /// Whether this event of another pair takes a yarn of this one there, or changes a record that did.
    #[must_use]
    pub fn is_carried(self, to: u16, event: &PairEvent) -> bool {
        if let PairEvent::Carried { from, was, .. } = *event {
            from == self.number && to != from && self.last(was).is_some()
        } else if let PairEvent::Undone { of } | PairEvent::Amended { of, .. } = *event {
            self.steps.iter().any(|step| is_end(step, of))
        } else {
            false
        }
    }
}

impl Ledger {
    /// Takes an event of the pair `to` that [`Pair::is_carried`]. A finished pair's leftover can go on elsewhere, too.
    pub(super) fn carry(&mut self, noted: Noted, to: u16, event: &PairEvent) -> Result<(), ApplyFault> {
        if let PairEvent::Carried { was, weight, .. } = *event {
            let step = self.new_step(noted, was, weight, Purpose::Carried(to));
            self.steps.push(step).map_err(|_| ApplyFault::Full)?;
        } else if let PairEvent::Amended { of, weight } = *event {
            for step in self.steps.iter_mut().filter(|step| is_end(step, of)) {
                step.amend(weight);
            }
        } else if let PairEvent::Undone { of } = *event {
            self.steps.retain(|step| !is_end(step, of));
        }
        Ok(())
    }
}

fn is_end(step: &Step, of: Sequence) -> bool {
    step.sequence == of && step.ends()
}
