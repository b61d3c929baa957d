//! What happens when the program cannot go on: a code is kept, the chip restarts, and the code is shown.
//!
//! Nothing is drawn from the panic itself: bus and display may be in the middle of anything. A restart takes 10 ms and finds
//! them in a known state. The code is also told to the core, which journals it; `firmware/place` looks it up.

use core::arch::asm;
use core::ops::Range;
use core::panic::PanicInfo;

use cortex_m_rt::{ExceptionFrame, exception};
use rp2040_hal::pac::{VREG_AND_CHIP_RESET, WATCHDOG};
use yarn_scale_core::board::Screen;
use yarn_scale_core::journal::StartCause;
use yarn_scale_core::screen::draw_code;

#[panic_handler]
fn panic(_: &PanicInfo<'_>) -> ! {
    stop(place_and_caller())
}

/// A fault of the processor itself.
///
/// # Safety
/// The hardware calls it.
#[exception]
unsafe fn HardFault(frame: &ExceptionFrame) -> ! {
    stop(code(frame.pc(), frame.lr()))
}

/// The place that panicked and the one that called its function, as return addresses on the stack tell.
///
/// Not the file and line that a panic brings along: the texts and tables for those are 6 KB of flash, and an address says more,
/// also of a place in a function that many call. On this target every function keeps its caller's frame in r7.
#[inline(always)]
fn place_and_caller() -> u32 {
    let mut frame: usize;
    // SAFETY: a register is read.
    unsafe { asm!("mov {}, r7", out(reg) frame, options(nomem, nostack, preserves_flags)) };
    let mut back = [0; 3];
    for address in &mut back {
        if !RAM.contains(&frame) || !frame.is_multiple_of(4) {
            break;
        }
        // SAFETY: two words of RAM may be read, whatever they hold.
        let words = unsafe { (frame as *const [usize; 2]).read_volatile() };
        (frame, *address) = (words[0], words[1] as u32);
    }
    // The first is within the standard library, whose one function all panics go through.
    code(back[1], back[2])
}

/// Two addresses of program code in one word: each in steps of 4 from the start of flash.
const fn code(place: u32, caller: u32) -> u32 {
    (place >> 2 & 0xFFFF) << 16 | caller >> 2 & 0xFFFF
}

/// Keeps the code and restarts.
fn stop(code: u32) -> ! {
    cortex_m::interrupt::disable();
    #[cfg(feature = "log")]
    super::log::stopped(code);
    // SAFETY: interrupts are off and this never returns, so nothing else uses the watchdog from now on.
    let watchdog = unsafe { &*WATCHDOG::PTR };
    // SAFETY: the scratch registers hold any bits.
    watchdog.scratch1().write(|w| unsafe { w.bits(code) });
    // SAFETY: as above.
    watchdog.scratch0().write(|w| unsafe { w.bits(CODE_KEPT) });
    rp2040_hal::reset()
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

/// Why the chip was reset, for the check on the bench: bits 8, 16 and 20 for power, the RUN pin and a debugger, bits 0 and 1 for the
/// watchdog's time and a reset by the program (RP2040 data sheet, "`CHIP_RESET`" and "WATCHDOG: REASON").
pub(crate) fn reset_register(chip: &VREG_AND_CHIP_RESET, watchdog: &WATCHDOG) -> u32 {
    chip.chip_reset().read().bits() & CHIP_RESET_CAUSES | watchdog.reason().read().bits() & WATCHDOG_CAUSES
}

/// Shows a code on an otherwise empty screen.
pub(crate) fn show(screen: &mut impl Screen, code: u32) {
    draw_code(code, screen.frame());
    screen.begin();
    // Without a display there is nothing to show it on; the journal has it.
    while matches!(screen.flush(), Err(nb::Error::WouldBlock)) {}
}

const CHIP_RESET_CAUSES: u32 = 1 << 8 | 1 << 16 | 1 << 20;
const WATCHDOG_CAUSES: u32 = 0b11;

/// Where a frame can be.
const RAM: Range<usize> = 0x2000_0000..0x2004_2000 - 4;

/// In a scratch register, that the next one holds a code. ("yarn", in ASCII.)
const CODE_KEPT: u32 = 0x7961_726E;
