//! The watchdog: a loop that hangs is restarted.

use rp2040_hal::Watchdog;
use rp2040_hal::fugit::MicrosDurationU32;

/// The running watchdog.
pub(crate) struct Guard(Watchdog);

impl Guard {
    /// Starts the watchdog; from now on it wants to be fed.
    pub(crate) fn new(mut watchdog: Watchdog) -> Self {
        watchdog.start(PERIOD);
        Self(watchdog)
    }

    /// Says that the loop is alive.
    pub(crate) fn feed(&mut self) {
        self.0.feed();
    }
}

/// Time after which a hang is ended: far above the slowest flash erase (400 ms), far below anybody's patience.
const PERIOD: MicrosDurationU32 = MicrosDurationU32::secs(5);
