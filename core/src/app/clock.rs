//! The device's own clock: seconds that go on across power-offs from the last noted time.
//!
//! While the power is off nobody counts, so times of different power-ons are in order but their distance is a lower
//! bound; [`crate::journal::Record::Started`] stands between them, and a computer may tie them to the calendar.

use crate::units::{Instant, Stamp};

/// The device's clock.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct DeviceClock {
    at_power_on: Stamp,
}

impl DeviceClock {
    /// Learns from a journal entry, during replay, that time has come at least this far.
    pub(super) fn learn(&mut self, noted: Stamp) {
        self.at_power_on = self.at_power_on.max(Stamp(noted.0.saturating_add(1)));
    }

    /// The time to note at `now`.
    #[must_use]
    pub(super) fn stamp(&self, now: Instant) -> Stamp {
        let seconds = u32::try_from(now.0 / 1_000).unwrap_or(u32::MAX);
        Stamp(self.at_power_on.0.saturating_add(seconds))
    }
}
