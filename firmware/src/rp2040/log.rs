//! Log lines over a debug probe (`firmware/build --log`): the core's are in `core/src/log.rs`, here is where they go.
//!
//! They lie in a ring in RAM which a probe reads while the program runs on; without a probe the oldest are overwritten.

use defmt_rtt as _;
use rp2040_hal::pac::TIMER;
use yarn_scale_core::journal::StartCause;

defmt::timestamp!("{=u32:us}", now());

/// Microseconds since the start, for an hour and a bit; then anew.
fn now() -> u32 {
    // SAFETY: a register that counts is read.
    unsafe { &*TIMER::PTR }.timerawl().read().bits()
}

/// The first line.
pub(crate) fn boot(version: &str, cause: StartCause) {
    defmt::info!("yarn scale {}, {}", version, cause);
}

/// The last line.
pub(crate) fn stopped(code: u32) {
    defmt::error!("stopped: {=u32:08x}", code);
}
