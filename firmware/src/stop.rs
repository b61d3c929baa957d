//! What happens when the program cannot go on: a code is kept, the chip restarts, and the code is shown.
//!
//! Nothing is drawn from the panic itself: bus and display may be in the middle of anything. A restart takes 10 ms and finds
//! them in a known state. The code is also told to the core, which journals it.

use core::panic::PanicInfo;

use cortex_m_rt::{ExceptionFrame, exception};
use rp2040_hal::pac::WATCHDOG;
use yarn_scale_core::board::Screen;
use yarn_scale_core::journal::StartCause;
use yarn_scale_core::screen::draw_code;

#[panic_handler]
fn panic(info: &PanicInfo<'_>) -> ! {
    stop(info.location().map_or(0, |place| code(place.file(), place.line())))
}

/// A fault of the processor itself; its code is the address of the instruction.
///
/// # Safety
/// The hardware calls it.
#[exception]
unsafe fn HardFault(frame: &ExceptionFrame) -> ! {
    stop(frame.pc())
}

/// Keeps the code and restarts.
fn stop(code: u32) -> ! {
    cortex_m::interrupt::disable();
    // SAFETY: interrupts are off and this never returns, so nobody else uses the watchdog from now on.
    let watchdog = unsafe { &*WATCHDOG::PTR };
    // SAFETY: the scratch registers hold any bits.
    watchdog.scratch1().write(|w| unsafe { w.bits(code) });
    // SAFETY: as above.
    watchdog.scratch0().write(|w| unsafe { w.bits(CODE_KEPT) });
    rp2040_hal::reset()
}

/// A code for a place in the source: 16 bits of its file's name (FNV-1a, folded), 16 bits of the line. `firmware/place` finds
/// the place again.
fn code(file: &str, line: u32) -> u32 {
    let hash = file.bytes().fold(0x811C_9DC5_u32, |hash, byte| {
        (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    });
    (hash ^ (hash >> 16)) << 16 | line & 0xFFFF
}

/// Why the chip starts; to be asked once, before the watchdog is used.
pub(crate) fn cause_of_start(watchdog: &WATCHDOG) -> StartCause {
    let kept = watchdog.scratch0().read().bits() == CODE_KEPT;
    // SAFETY: the scratch registers hold any bits.
    watchdog.scratch0().write(|w| unsafe { w.bits(0) });
    let reason = watchdog.reason().read();
    match (kept, reason.timer().bit_is_set()) {
        (true, _) => StartCause::Panic(watchdog.scratch1().read().bits()),
        (false, true) => StartCause::Watchdog,
        (false, false) => StartCause::PowerOn,
    }
}

/// Shows a code on an otherwise empty screen.
pub(crate) fn show(screen: &mut impl Screen, code: u32) {
    let Ok(()) = draw_code(code, screen);
    screen.begin();
    // Without a display there is nothing to show it on; the journal has it.
    while matches!(screen.flush(), Err(nb::Error::WouldBlock)) {}
}

/// In a scratch register, that the next one holds a code. ("yarn", in ASCII.)
const CODE_KEPT: u32 = 0x7961_726E;
