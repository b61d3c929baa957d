//! What the chains of weights say: used by section, left by yarn, and that nothing is missing.

use super::pair::newest_of;
use super::{Ledger, Purpose, Step};
use crate::measured::Measured;
use crate::sock::YarnLetter;
use crate::units::Milligrams;

/// A yarn's account in the running pair. `weighed_in = used + unplanned + left`, exactly.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Account {
    /// Sum of its weigh-ins.
    pub weighed_in: Milligrams,
    /// What its sections took.
    pub used: Milligrams,
    /// What went to no section, or on into another pair.
    pub unplanned: Milligrams,
    /// What it last weighed.
    pub left: Milligrams,
}

impl Ledger {
    /// The newest step of a yarn, or `None` if it was not weighed in or goes on in another pair.
    #[must_use]
    pub fn last(&self, yarn: YarnLetter) -> Option<&Step> {
        self.as_pair().last(yarn)
    }

    /// What went between the step at `place` and the yarn's step before it, moisture seen to; `None` for a first weigh-in.
    #[must_use]
    pub fn used_at(&self, place: usize) -> Option<Measured> {
        self.used_with_correction(place).map(|(went, _)| went)
    }

    /// The yarn's step before the one at `place`, in the same chain.
    #[must_use]
    pub fn before(&self, place: usize) -> Option<&Step> {
        let yarn = self.steps().get(place)?.yarn;
        newest_of(self.steps().get(..place)?, yarn)
    }

    /// What a section of the plan took, over all its marks and yarns; `None` if it is not marked.
    #[must_use]
    pub fn used(&self, line: u8) -> Option<Measured> {
        let marks = self
            .steps()
            .iter()
            .enumerate()
            .filter(|(_, step)| step.purpose == Purpose::Section(line));
        marks
            .filter_map(|(place, _)| self.used_at(place))
            .reduce(Measured::plus)
    }

    /// What all marked sections took.
    #[must_use]
    pub fn total_used(&self) -> Measured {
        let lines = 0..u8::try_from(self.plan().lines.len()).unwrap_or(u8::MAX);
        lines
            .filter_map(|line| self.used(line))
            .fold(Measured::default(), Measured::plus)
    }

    /// A yarn's account.
    #[must_use]
    pub fn account(&self, yarn: YarnLetter) -> Account {
        let mut account = Account::default();
        for (place, step) in self.steps().iter().enumerate().filter(|(_, step)| step.yarn == yarn) {
            let before = self.before(place).map(|before| before.weight.net.value);
            let went = before.map(|before| before - step.weight.net.value);
            match (step.purpose, went) {
                // A further weigh-in begins anew: what the last one had left was put away, for no section.
                (Purpose::WeighIn, _) => {
                    account.unplanned = account.unplanned + account.left;
                    account.weighed_in = account.weighed_in + step.weight.net.value;
                }
                (Purpose::Section(_), Some(went)) => account.used = account.used + went,
                (Purpose::Unplanned | Purpose::Carried(_), Some(went)) => account.unplanned = account.unplanned + went,
                // Only after an undone weigh-in: the chain begins here.
                (Purpose::Section(_) | Purpose::Unplanned | Purpose::Carried(_), None) => {
                    account.weighed_in = account.weighed_in + step.weight.net.value;
                }
            }
            account.left = step.weight.net.value;
            if step.ends() {
                account.unplanned = account.unplanned + account.left;
                account.left = Milligrams::ZERO;
            }
        }
        account
    }
}
