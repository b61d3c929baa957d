//! The chain of weights of each yarn: where a step joins it, and what taking one back leaves.

use super::apply::{ApplyFault, Ledger, Noted};
use super::{Purpose, Step};
use crate::journal::Sequence;
use crate::sock::{Weight, YarnLetter};
use crate::units::Stamp;

impl Ledger {
    /// A section of the plan, and a yarn that has a weight to go from.
    pub(super) fn known(&self, line: u8, yarn: YarnLetter) -> Result<(), ApplyFault> {
        self.plan.line(line).ok_or(ApplyFault::NoSuchLine)?;
        self.weighed_in(yarn)
    }

    /// A yarn must have been weighed in, or its weigh-in may be what is missing: then its chain begins with this step.
    pub(super) fn weighed_in(&self, yarn: YarnLetter) -> Result<(), ApplyFault> {
        if self.last(yarn).is_some() || self.is_doubted(yarn) {
            Ok(())
        } else {
            Err(ApplyFault::NotWeighedIn)
        }
    }

    fn is_doubted(&self, yarn: YarnLetter) -> bool {
        self.doubt.get(yarn.index()).copied().unwrap_or_default()
    }

    fn set_doubt(&mut self, yarn: YarnLetter, doubt: bool) {
        if let Some(known) = self.doubt.get_mut(yarn.index()) {
            *known = doubt;
        }
    }

    pub(super) fn push(
        &mut self,
        noted: Noted,
        yarn: YarnLetter,
        weight: Weight,
        purpose: Purpose,
    ) -> Result<(), ApplyFault> {
        if !self.open {
            return Err(ApplyFault::NoPair);
        }
        let step = self.new_step(noted, yarn, weight, purpose);
        self.steps.push(step).map_err(|_| ApplyFault::Full)?;
        self.set_doubt(yarn, false);
        Ok(())
    }

    pub(super) fn insert(
        &mut self,
        noted: Noted,
        line: u8,
        yarn: YarnLetter,
        weight: Weight,
        visited: Stamp,
        before: Option<(Sequence, u8)>,
    ) -> Result<(), ApplyFault> {
        if !self.open {
            return Err(ApplyFault::NoPair);
        }
        let mut step = self.new_step(noted, yarn, weight, Purpose::Section(line));
        step.at = visited;
        step.late = true;
        let Some((later, its_line)) = before else {
            return self.steps.push(step).map_err(|_| ApplyFault::Full);
        };
        let place = self
            .steps
            .iter()
            .position(|known| known.sequence == later && known.yarn == yarn);
        let place = place.ok_or(ApplyFault::NoSuchRecord)?;
        self.plan.line(its_line).ok_or(ApplyFault::NoSuchLine)?;
        let is_first = |known: &Step| known.purpose == Purpose::WeighIn && self.before(place).is_none();
        if self.steps.get(place).is_some_and(is_first) {
            return Err(ApplyFault::NoSuchRecord);
        }
        if self.steps.is_full() {
            return Err(ApplyFault::Full);
        }
        let known = self.steps.get_mut(place).ok_or(ApplyFault::NoSuchRecord)?;
        // What went into no section stays there.
        if known.is_section() {
            step.pushed_on = Some((later, known.purpose));
            known.purpose = Purpose::Section(its_line);
        }
        self.steps.insert(place, step).map_err(|_| ApplyFault::Full)?;
        Ok(())
    }

    pub(super) fn new_step(&self, noted: Noted, yarn: YarnLetter, weight: Weight, purpose: Purpose) -> Step {
        Step {
            sequence: noted.sequence,
            at: noted.at,
            yarn,
            weight,
            purpose,
            apart: None,
            amended: false,
            late: false,
            pushed_on: None,
            doubtful: self.is_doubted(yarn),
        }
    }

    pub(super) fn undo(&mut self, of: Sequence) -> Result<(), ApplyFault> {
        if let Some(place) = self.skips.iter().position(|&(sequence, _)| sequence == of) {
            self.skips.remove(place);
            return Ok(());
        }
        if self.counting.undo(of) {
            return Ok(());
        }
        let place = self
            .steps
            .iter()
            .position(|step| step.sequence == of && !step.ends())
            .ok_or(ApplyFault::NoSuchRecord)?;
        let step = self.steps.remove(place);
        let pushed_on = step.pushed_on;
        if let Some((later, purpose)) = pushed_on
            && let Some(later) = self.steps.iter_mut().find(|known| known.sequence == later)
        {
            later.purpose = purpose;
        }
        // What made it doubtful is still missing before the yarn's next step.
        if step.doubtful && !step.late {
            self.set_doubt(step.yarn, true);
        }
        Ok(())
    }

    /// Takes a mark of a section back that need not be the newest; a yarn keeps its first weight.
    pub(super) fn take_back(&mut self, of: Sequence) -> Result<(), ApplyFault> {
        let step = self.step(of).ok_or(ApplyFault::NoSuchRecord)?;
        if step.purpose == Purpose::WeighIn || step.ends() {
            return Err(ApplyFault::NoMark);
        }
        self.undo(of)
    }

    /// Gives a mark to another section.
    pub(super) fn move_mark(&mut self, of: Sequence, line: u8) -> Result<(), ApplyFault> {
        self.plan.line(line).ok_or(ApplyFault::NoSuchLine)?;
        let step = self.steps.iter_mut().find(|step| step.sequence == of);
        let step = step.ok_or(ApplyFault::NoSuchRecord)?;
        if step.purpose == Purpose::WeighIn || step.ends() {
            return Err(ApplyFault::NoMark);
        }
        step.purpose = Purpose::Section(line);
        // Taking a late mark back that had pushed it on does not move it once more.
        for other in &mut self.steps {
            other.pushed_on.take_if(|(pushed, _)| *pushed == of);
        }
        Ok(())
    }
}
