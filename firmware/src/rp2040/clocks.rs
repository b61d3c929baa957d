//! The chip's clocks: from the PLLs while speed or USB wants them, from the crystal alone otherwise, and none at all in deep sleep.
//!
//! The reference clock, which the timer and the watchdog tick by, is the crystal throughout, and so is the ADC's: a switch concerns the
//! processor, its peripherals and USB only. Each switch goes over a multiplexer without glitches (RP2040 data sheet, "Clock Multiplexers").
//!
//! The ring oscillator, which a reset by the watchdog needs to begin with, is off only while the crystal stands, when the watchdog stands
//! too: a reset without it would lock the chip until its power goes (micropython issue 17228).

use rp2040_hal::Watchdog;
use rp2040_hal::clocks::{Clock, ClocksManager};
use rp2040_hal::fugit::HertzU32;
use rp2040_hal::pac::{CLOCKS, PLL_SYS, PLL_USB, PPB, RESETS, ROSC, XOSC};
use rp2040_hal::pll::common_configs::{PLL_SYS_125MHZ, PLL_USB_48MHZ};
use rp2040_hal::pll::setup_pll_blocking;
use rp2040_hal::xosc::setup_xosc_blocking_custom_delay;
use yarn_scale_core::board::Speed;

/// The running clocks.
pub(crate) struct Clocks {
    speed: Speed,
}

/// What the clocks are made of.
pub(crate) struct Oscillators {
    pub(crate) crystal: XOSC,
    pub(crate) clocks: CLOCKS,
    pub(crate) system: PLL_SYS,
    pub(crate) usb: PLL_USB,
}

impl Clocks {
    /// Starts everything, fast; `None` if the crystal or a PLL is not as this board has them.
    pub(crate) fn start(
        parts: Oscillators,
        resets: &mut RESETS,
        watchdog: &mut Watchdog,
    ) -> Option<(Self, ClocksManager)> {
        let crystal = setup_xosc_blocking_custom_delay(parts.crystal, CRYSTAL, START_UP).ok()?;
        let mut clocks = ClocksManager::new(parts.clocks);
        let system = setup_pll_blocking(parts.system, CRYSTAL, PLL_SYS_125MHZ, &mut clocks, resets).ok()?;
        let usb = setup_pll_blocking(parts.usb, CRYSTAL, PLL_USB_48MHZ, &mut clocks, resets).ok()?;
        clocks.reference_clock.configure_clock(&crystal, CRYSTAL).ok()?;
        clocks.system_clock.configure_clock(&system, hertz(Speed::Fast)).ok()?;
        clocks
            .peripheral_clock
            .configure_clock(&clocks.system_clock, hertz(Speed::Fast))
            .ok()?;
        clocks.usb_clock.configure_clock(&usb, USB).ok()?;
        clocks.adc_clock.configure_clock(&crystal, CRYSTAL).ok()?;
        watchdog.enable_tick_generation(TICK);
        Some((Self { speed: Speed::Fast }, clocks))
    }

    /// How fast the processor runs.
    pub(crate) const fn speed(&self) -> Speed {
        self.speed
    }

    /// Runs the processor at another speed.
    pub(crate) fn run_at(&mut self, speed: Speed) {
        match (self.speed, speed) {
            (Speed::Slow, Speed::Slow) | (Speed::Fast, Speed::Fast) => return,
            (Speed::Fast, Speed::Slow) => slow_down(),
            (Speed::Slow, Speed::Fast) => speed_up(),
        }
        self.speed = speed;
    }

    /// Stops every clock until a pin moves that was armed for it. The processor runs slowly before and after.
    pub(crate) fn stop(&mut self) {
        self.run_at(Speed::Slow);
        // SAFETY: registers of the oscillators, which nothing else uses; interrupts may come, and find a running clock.
        let (ring, crystal) = unsafe { (&*ROSC::PTR, &*XOSC::PTR) };
        ring.ctrl().modify(|_, w| w.enable().disable());
        // SAFETY: the value that the data sheet gives; the PLLs are off, and the next instruction runs when the crystal does again.
        crystal.dormant().write(|w| unsafe { w.bits(STOP) });
        while crystal.status().read().stable().bit_is_clear() {}
        ring.ctrl().modify(|_, w| w.enable().enable());
    }
}

/// Whether a sleep may stop what the processor does not need to be woken; on a fast clock there is USB.
pub(super) fn sleep_deeply(deeply: bool) {
    // SAFETY: two registers of gates, and one bit of the core's that only chooses the kind of sleep.
    let (clocks, core) = unsafe { (&*CLOCKS::PTR, &*PPB::PTR) };
    // SAFETY: any bits are gates.
    unsafe {
        clocks.sleep_en0().write(|w| w.bits(AWAKE_IN_SLEEP.0));
        clocks.sleep_en1().write(|w| w.bits(AWAKE_IN_SLEEP.1));
    }
    core.scr().modify(|_, w| w.sleepdeep().bit(deeply));
}

fn slow_down() {
    // SAFETY: as in `speed_up`.
    let (clocks, system, usb) = unsafe { (&*CLOCKS::PTR, &*PLL_SYS::PTR, &*PLL_USB::PTR) };
    clocks.clk_sys_ctrl().modify(|_, w| w.src().clk_ref());
    while clocks.clk_sys_selected().read().bits() != FROM_REFERENCE {}
    clocks.clk_usb_ctrl().modify(|_, w| w.enable().clear_bit());
    system.pwr().reset();
    usb.pwr().reset();
}

fn speed_up() {
    // SAFETY: registers of the clocks, which only this file uses once they are set up; their settings stand, the PLLs are only off.
    let (clocks, system, usb) = unsafe { (&*CLOCKS::PTR, &*PLL_SYS::PTR, &*PLL_USB::PTR) };
    for pll in [system, usb] {
        pll.pwr().modify(|_, w| w.pd().clear_bit().vcopd().clear_bit());
    }
    for pll in [system, usb] {
        while pll.cs().read().lock().bit_is_clear() {}
        pll.pwr().modify(|_, w| w.postdivpd().clear_bit());
    }
    clocks.clk_sys_ctrl().modify(|_, w| w.src().clksrc_clk_sys_aux());
    while clocks.clk_sys_selected().read().bits() != FROM_PLL {}
    clocks.clk_usb_ctrl().modify(|_, w| w.enable().set_bit());
}

/// The processor's clock at a speed, Hz.
pub(super) const fn hertz(speed: Speed) -> HertzU32 {
    match speed {
        Speed::Slow => CRYSTAL,
        Speed::Fast => HertzU32::MHz(125),
    }
}

/// Crystal of the Pico.
const CRYSTAL: HertzU32 = HertzU32::MHz(12);

/// Full speed USB.
const USB: HertzU32 = HertzU32::MHz(48);

/// What the crystal is given to start up, in times of a millisecond: it was measured to need some 6 (pico-sdk issue 2234). The library's 64
/// would pass at every wake.
const START_UP: u32 = 6;

/// Cycles of the crystal in a microsecond.
const TICK: u8 = 12;

/// The multiplexer of the processor's clock says so when it has switched.
const FROM_REFERENCE: u32 = 1;
const FROM_PLL: u32 = 1 << 1;

/// "coma", in ASCII (RP2040 data sheet, "XOSC: DORMANT Register").
const STOP: u32 = 0x636F_6D61;

/// What keeps its clock in sleep: pins (IO, pads), timer and watchdog (RP2040 data sheet, "CLOCKS: `SLEEP_EN0`, `SLEEP_EN1` Register").
const AWAKE_IN_SLEEP: (u32, u32) = (1 << 8 | 1 << 11, 1 << 5 | 1 << 12);
