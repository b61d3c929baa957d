//! The device's own clock: seconds that go on across power-offs from the last noted time.
//!
//! No time is counted while the power is off, nor while every clock stands still in deep sleep. A day is assumed for it, so that the range of a difference across a power-off is
//! widened for moisture as it should be; a computer may tie the times to the calendar.

use crate::journal::StartCause;
use crate::units::{Instant, Stamp};

/// What a power-off counts for, seconds.
const OFF: u32 = 86_400;

/// The device's clock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct DeviceClock {
    /// The time that the next record may have at the earliest; 0 as long as nothing was noted.
    reached: Stamp,
    /// The time at which the device started.
    at_start: Stamp,
}

impl DeviceClock {
    /// Learns from a journal entry that time has come at least this far.
    pub(super) fn learn(&mut self, noted: Stamp) {
        self.reached = self.reached.max(Stamp(noted.0.saturating_add(1)));
    }

    /// Nothing was ever noted.
    pub(super) fn is_blank(&self) -> bool {
        self.reached == Stamp::default()
    }

    /// The device starts. If power came on, it was off since the last entry, if there was one.
    pub(super) fn start(&mut self, cause: StartCause) {
        let off = if cause == StartCause::PowerOn && !self.is_blank() {
            OFF
        } else {
            0
        };
        self.at_start = Stamp(self.reached.0.saturating_add(off));
    }

    /// The clock has stood still for an unknown time: it counts as a power-off does.
    pub(super) const fn lose(&mut self) {
        self.at_start = Stamp(self.at_start.0.saturating_add(OFF));
    }

    /// The time to note at `now`, counted from the start.
    #[must_use]
    pub(super) fn stamp(&self, now: Instant) -> Stamp {
        let seconds = u32::try_from(now.0 / 1_000).unwrap_or(u32::MAX);
        Stamp(self.at_start.0.saturating_add(seconds))
    }
}
