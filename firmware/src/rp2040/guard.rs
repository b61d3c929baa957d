//! Interrupts held off while the converter's clock line is high.

use yarn_scale_firmware::hx711::Uninterrupted;

/// Holds interrupts off on this core, the only one that runs.
#[derive(Debug)]
pub(crate) struct InterruptsOff;

impl Uninterrupted for InterruptsOff {
    fn hold_off<R>(&mut self, work: impl FnOnce() -> R) -> R {
        cortex_m::interrupt::free(|_| work())
    }
}
