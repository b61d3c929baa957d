//! What came out of the check on the bench, the latest of each.

use crate::journal::BenchCheck;
use crate::units::Stamp;

/// One result.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Checked {
    /// When it was noted.
    pub at: Stamp,
    /// What came out, in the check's unit.
    pub value: i32,
    /// Whether it is within its limits; `None` where there are none.
    pub passed: Option<bool>,
}

/// The latest result of each check.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Checks([Option<Checked>; BenchCheck::ALL.len()]);

impl Checks {
    pub(super) fn learn(&mut self, at: Stamp, check: BenchCheck, value: i32, passed: Option<bool>) {
        if let Some(place) = self.0.get_mut(check as usize) {
            *place = Some(Checked { at, value, passed });
        }
    }

    /// The latest result of a check, if it was ever made.
    #[must_use]
    pub fn of(&self, check: BenchCheck) -> Option<Checked> {
        self.0.get(check as usize).copied().flatten()
    }
}
