//! The device's own clock: seconds that go on across power-offs from the last noted time.
//!
//! While the power is off nobody counts. A day is assumed for it, so that the range of a difference across a power-off is
//! widened for moisture as it should be; a computer may tie the times to the calendar.

use crate::units::{Instant, Stamp};

/// What a power-off counts for, seconds.
const OFF: u32 = 86_400;

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

    /// Nothing was ever noted.
    pub(super) fn is_blank(&self) -> bool {
        self.at_power_on == Stamp::default()
    }

    /// The power was off since the last entry, if there was one.
    pub(super) fn was_off(&mut self) {
        if !self.is_blank() {
            self.at_power_on = Stamp(self.at_power_on.0.saturating_add(OFF));
        }
    }

    /// The time to note at `now`.
    #[must_use]
    pub(super) fn stamp(&self, now: Instant) -> Stamp {
        let seconds = u32::try_from(now.0 / 1_000).unwrap_or(u32::MAX);
        Stamp(self.at_power_on.0.saturating_add(seconds))
    }
}
