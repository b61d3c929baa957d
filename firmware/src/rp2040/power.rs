//! The chip's own regulator and its guard.

use rp2040_hal::pac::VREG_AND_CHIP_RESET;

/// Sets the core's supply to 1.10 V, and the level below which the chip is held in reset to 0.86 V, as both are after reset (RP2040 data
/// sheet, "On-Chip Voltage Regulator", "Brown-out Detection"): a program that ran before may have left them otherwise.
pub(super) fn set(power: &VREG_AND_CHIP_RESET) {
    // SAFETY: both are values that the data sheet lists.
    power
        .vreg()
        .write(|w| unsafe { w.vsel().bits(CORE_1_10_V) }.en().set_bit());
    // SAFETY: as above.
    power
        .bod()
        .write(|w| unsafe { w.vsel().bits(GUARD_0_86_V) }.en().set_bit());
}

const CORE_1_10_V: u8 = 0b1011;
const GUARD_0_86_V: u8 = 0b1001;
