//! Sleep between two turns of the loop: until an alarm, a conversion, a key edge or the computer.
//!
//! The interrupt handlers only switch their own line off again: waking is all they are for, and the loop looks at everything
//! anyway. So nothing is shared between them and the loop.

use rp2040_hal::fugit::MicrosDurationU32;
use rp2040_hal::pac::{Interrupt, NVIC, interrupt};
use rp2040_hal::timer::{Alarm, Alarm0};
use yarn_scale_core::units::Duration;

use super::clocks::sleep_deeply;

/// The alarm that ends a sleep.
pub(crate) struct Sleep {
    alarm: Alarm0,
}

impl Sleep {
    /// Takes over an alarm.
    pub(crate) fn new(mut alarm: Alarm0) -> Self {
        alarm.enable_interrupt();
        Self { alarm }
    }

    /// Sleeps for at most `span`; `deeply` if nothing but what wakes it needs a clock.
    pub(crate) fn sleep_for(&mut self, span: Duration, deeply: bool) {
        WAKING.into_iter().for_each(NVIC::mask);
        // An event left over from the last handler would end the sleep before it begins: this one is set and taken.
        cortex_m::asm::sev();
        cortex_m::asm::wfe();

        self.alarm.clear_interrupt();
        let span = MicrosDurationU32::micros(span.0.saturating_mul(1_000).max(SHORTEST_US));
        if self.alarm.schedule(span).is_err() {
            return;
        }
        for line in WAKING {
            NVIC::unpend(line);
            // SAFETY: the handlers below share nothing with the loop, so no critical section can be broken by them.
            unsafe { NVIC::unmask(line) };
        }
        sleep_deeply(deeply);
        cortex_m::asm::wfe();
    }
}

#[interrupt]
fn TIMER_IRQ_0() {
    NVIC::mask(Interrupt::TIMER_IRQ_0);
}

#[interrupt]
fn IO_IRQ_BANK0() {
    NVIC::mask(Interrupt::IO_IRQ_BANK0);
}

#[interrupt]
fn USBCTRL_IRQ() {
    NVIC::mask(Interrupt::USBCTRL_IRQ);
}

/// What ends a sleep.
const WAKING: [Interrupt; 3] = [Interrupt::TIMER_IRQ_0, Interrupt::IO_IRQ_BANK0, Interrupt::USBCTRL_IRQ];

/// An alarm set closer than this could be over before it is set, us.
const SHORTEST_US: u32 = 20;
