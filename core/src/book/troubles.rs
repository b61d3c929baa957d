//! What went wrong, as far as the journal tells.

use crate::journal::StartCause;

/// Troubles since the place where replay began.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Troubles {
    /// Places in the journal where something among the marks is missing or damaged.
    pub gaps: u16,
    /// Restarts after a hang.
    pub hangs: u16,
    /// Restarts after an error of the program.
    pub errors: u16,
    /// A record was damaged, is missing, or contradicts the others.
    pub doubtful: bool,
}

impl Troubles {
    pub(super) fn started(&mut self, cause: StartCause) {
        match cause {
            StartCause::Watchdog => self.hangs = self.hangs.saturating_add(1),
            StartCause::Panic(_) => self.errors = self.errors.saturating_add(1),
            StartCause::PowerOn | StartCause::Restored => {}
        }
    }
}
