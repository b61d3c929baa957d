//! The watchdog, and what it remembers over a reset.

use rp2040_hal::Watchdog;
use rp2040_hal::pac::WATCHDOG;

/// Time after which a hang is reset, ms: far above the slowest flash erase (400 ms), far below a knitter's patience.
pub(crate) const PERIOD_MS: u32 = 5_000;

/// The running watchdog.
pub(crate) struct Guardian(Watchdog);

impl Guardian {
    /// Takes over a watchdog that has been started.
    pub(crate) const fn new(watchdog: Watchdog) -> Self {
        Self(watchdog)
    }

    /// Says that the loop is alive.
    pub(crate) fn feed(&mut self) {
        self.0.feed();
    }
}

/// Why the program starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Reset {
    /// Power has come.
    PowerOn,
    /// The watchdog found a hang.
    Watchdog,
}

/// Reads why the chip was last reset.
pub(crate) fn cause_of_reset(watchdog: &WATCHDOG) -> Reset {
    let reason = watchdog.reason().read();
    if reason.timer().bit_is_set() {
        Reset::Watchdog
    } else {
        Reset::PowerOn
    }
}
