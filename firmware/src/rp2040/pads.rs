//! Sets the pads as `pins.rs` says, all of them: none is left as reset sets it.

use rp2040_hal::pac::PADS_BANK0;
use yarn_scale_firmware::rp2040::pins::{PADS, pad};

/// Sets every pad; to be called when the pins have their functions, which touches the pads as well.
pub(super) fn set() {
    // SAFETY: registers of pads, which the pins' owners set one by one before this and never after; E5's way round, which borrows
    // an unused pad, puts back what it found.
    let pads = unsafe { &*PADS_BANK0::PTR };
    for gpio in 0..PADS {
        // SAFETY: any bits make a pad; these are the table's.
        pads.gpio(gpio.into())
            .write(|w| unsafe { w.bits(pad(gpio).register()) });
    }
}
