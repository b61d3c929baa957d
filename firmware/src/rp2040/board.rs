//! The device as the core sees it: [`Pico`] hands out the parts.

use core::cell::RefCell;

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::InputPin;
use embedded_hal_bus::i2c::RefCellDevice;
use rp2040_hal::Timer;
use rp2040_hal::gpio::bank0::{Gpio2, Gpio3};
use rp2040_hal::gpio::{FunctionSioInput, FunctionSioOutput, Interrupt as Edge, Pin, PullNone, PullUp};
use rp2040_hal::usb::UsbBus;
use usb_device::bus::UsbBusAllocator;
use yarn_scale_core::app::Wait;
use yarn_scale_core::board::{Board, Climate, Levels, Screen, Speed, Tone};
use yarn_scale_core::journal::StartCause;
use yarn_scale_core::screen::draw_other_board;
use yarn_scale_core::units::{Duration, Instant, Millivolts};
use yarn_scale_firmware::buzzer::Buzzer;
use yarn_scale_firmware::humidity::Humidity;
use yarn_scale_firmware::hx711::Hx711;
use yarn_scale_firmware::panel::Panel;
use yarn_scale_firmware::rp2040::pins;

use super::bus::Bus;
use super::clocks::Clocks;
use super::flash::Flash;
use super::guard::InterruptsOff;
use super::keys::Keys;
use super::sleep::Sleep;
use super::stop;
use super::supply::Supply;
use super::tone::Wave;
use super::usb::Usb;
use super::watchdog::Guard;

/// The converter on its wires.
pub(crate) type LoadCell =
    Hx711<Pin<Gpio2, FunctionSioOutput, PullNone>, Pin<Gpio3, FunctionSioInput, PullUp>, Timer, InterruptsOff>;

/// The parts that nothing else shares.
pub(crate) struct Unshared {
    pub(crate) clocks: Clocks,
    pub(crate) converter: LoadCell,
    pub(crate) keys: Keys,
    pub(crate) buzzer: Buzzer<Wave>,
    pub(crate) sleep: Sleep,
    pub(crate) watchdog: Guard,
    pub(crate) timer: Timer,
    pub(crate) cause: StartCause,
}

/// The yarn scale's board.
pub(crate) struct Pico<'a> {
    unshared: Unshared,
    bus: &'a RefCell<Bus>,
    /// Every clock has stood still since the core asked last.
    stood_still: bool,
    supply: &'a RefCell<Supply>,
    panel: Panel<RefCellDevice<'a, Bus>>,
    humidity: Humidity<RefCellDevice<'a, Bus>>,
    usb: Usb<'a>,
    flash: Flash<'a>,
    tend_panel_at: Instant,
}

impl<'a> Pico<'a> {
    /// Puts the board together.
    pub(crate) fn new(
        unshared: Unshared,
        bus: &'a RefCell<Bus>,
        supply: &'a RefCell<Supply>,
        usb: &'a UsbBusAllocator<UsbBus>,
        serial_number: &'a str,
    ) -> Self {
        Self {
            usb: Usb::new(usb, serial_number, unshared.timer),
            unshared,
            bus,
            stood_still: false,
            supply,
            panel: Panel::new(RefCellDevice::new(bus), pins::DISPLAY_ADDRESS),
            humidity: Humidity::new(RefCellDevice::new(bus), pins::HUMIDITY_ADDRESS),
            flash: Flash::new(supply),
            tend_panel_at: Instant(0),
        }
    }

    /// Sleeps as long as the core allows, unless something happens before; sees to what needs seeing to whatever the core does.
    pub(crate) fn rest(&mut self, wait: Wait) {
        self.unshared.watchdog.feed();
        let on_usb = self.supply.borrow_mut().on_usb();
        if on_usb {
            self.run_at(Speed::Fast);
        }
        self.usb.attend(on_usb);
        self.usb.poll();
        self.supply.borrow_mut().quiet(self.unshared.converter.is_powered());
        if wait.stopped && !on_usb && !self.unshared.buzzer.sounds() && !self.panel.sending() {
            self.stand_still();
            return;
        }
        let now = self.now();
        if now >= self.tend_panel_at && !self.panel.sending() {
            self.tend_panel_at = now + PANEL_TENDED_EVERY;
            // One that does not answer is tried again next time.
            let _ = self.panel.tend();
        }
        let mut until = wait.until.min(now + LONGEST_SLEEP);
        if let Some(end) = self.unshared.buzzer.tend(now) {
            until = until.min(end);
        }
        let press_ends = self.unshared.keys.passed_on_until();
        if press_ends > now {
            until = until.min(press_ends);
        }
        if !self.listen_to_converter(wait.for_samples) {
            until = until.min(now + BLIND_SLEEP);
        }
        if until > now {
            let deeply = self.unshared.clocks.speed() == Speed::Slow && !self.unshared.buzzer.sounds();
            self.unshared.sleep.sleep_for(until.since(now), deeply);
            let now = self.now();
            self.unshared.keys.attend(now);
        }
    }

    /// Lets every clock stand until a key or a plug comes; what came at the last moment keeps them running.
    fn stand_still(&mut self) {
        let armed = self.unshared.keys.arm() && self.supply.borrow_mut().arm();
        if armed {
            self.run_at(Speed::Slow);
            self.unshared.watchdog.feed();
            self.unshared.clocks.stop();
            self.stood_still = true;
        }
        self.supply.borrow_mut().disarm();
        self.unshared.keys.disarm();
    }

    /// Whether this is a board whose VSYS cannot be read, as on a Pico W: there the pad belongs to its radio, which lets VSYS through
    /// only while GPIO 25 is high; on a Pico that is the lamp. No regulator runs on so little.
    pub(crate) fn is_another_board(&mut self) -> bool {
        self.unshared.timer.delay_us(DIVIDER_SETTLED_US);
        let seen = self.supply.borrow_mut().millivolts();
        seen.is_some_and(|supply| supply < LEAST_TO_RUN)
    }

    /// Says by name that the program is not for this board, for ever.
    pub(crate) fn refuse(&mut self) -> ! {
        draw_other_board("Pico W?", self.panel.frame());
        self.panel.begin();
        loop {
            while matches!(self.panel.flush(), Err(nb::Error::WouldBlock)) {}
            let until = self.now() + LONGEST_SLEEP;
            self.rest(Wait {
                until,
                for_samples: false,
                stopped: false,
            });
        }
    }

    /// Why the program started; a code that the last run has left is shown for a while first, should this run get no further.
    pub(crate) fn cause_of_start(&mut self) -> StartCause {
        if let StartCause::Panic(code) = self.unshared.cause {
            stop::show(&mut self.panel, code);
            let until = self.now() + CODE_SHOWN;
            while self.now() < until {
                self.rest(Wait {
                    until,
                    for_samples: false,
                    stopped: false,
                });
            }
        }
        self.unshared.cause
    }

    /// Lets the converter's data line end the sleep by going low, where that is `wanted`; says whether it can, for one that is
    /// low already cannot.
    fn listen_to_converter(&mut self, wanted: bool) -> bool {
        let data = self.unshared.converter.data();
        let high = data.as_input().is_high().unwrap_or(true);
        data.set_interrupt_enabled(Edge::LevelLow, wanted && high);
        high || !wanted
    }
}

impl<'a> Board for Pico<'a> {
    type Converter = LoadCell;
    type Screen = Panel<RefCellDevice<'a, Bus>>;
    type Link = Usb<'a>;
    type Pipe = Usb<'a>;
    type Flash = Flash<'a>;

    fn now(&mut self) -> Instant {
        Instant(self.unshared.timer.get_counter().duration_since_epoch().to_millis())
    }

    fn converter(&mut self) -> &mut LoadCell {
        &mut self.unshared.converter
    }

    fn levels(&mut self) -> Levels {
        let now = self.now();
        self.unshared.keys.levels(now)
    }

    fn supply(&mut self) -> Option<Millivolts> {
        self.supply.borrow_mut().millivolts()
    }

    fn climate(&mut self) -> Option<Climate> {
        let now = self.now();
        self.humidity.poll(now)
    }

    fn screen(&mut self) -> &mut Self::Screen {
        &mut self.panel
    }

    fn link(&mut self) -> &mut Usb<'a> {
        &mut self.usb
    }

    fn flash(&mut self) -> &mut Flash<'a> {
        &mut self.flash
    }

    fn plugged(&mut self) -> bool {
        self.supply.borrow_mut().on_usb()
    }

    fn has_lost_time(&mut self) -> bool {
        core::mem::take(&mut self.stood_still)
    }

    fn run_at(&mut self, speed: Speed) {
        if speed == self.unshared.clocks.speed() {
            return;
        }
        if speed == Speed::Slow {
            // Off the bus before its clock goes; a plug that is still there keeps the clock fast.
            self.usb.attend(false);
        }
        self.unshared.clocks.run_at(speed);
        self.bus.borrow_mut().run_at(speed);
        let sounds = self.unshared.buzzer.sounds();
        self.unshared.buzzer.wave().run_at(speed, sounds);
    }

    fn drive(&mut self) -> (&mut Usb<'a>, &mut Flash<'a>) {
        (&mut self.usb, &mut self.flash)
    }

    fn number(&self) -> [u8; 16] {
        self.usb.number()
    }

    fn beep(&mut self, tone: Tone) {
        let now = self.now();
        self.unshared.buzzer.sound(tone, now);
    }
}

/// A divider of 200 and 100 kOhm into 1 nF (Pico data sheet, schematic) is there after a tenth of that.
const DIVIDER_SETTLED_US: u32 = 1_000;

/// Below 1.8 V at VSYS no Pico runs (RT6150 data sheet); half of that is no supply, whatever the ADC makes of it.
const LEAST_TO_RUN: Millivolts = Millivolts(900);

/// How often a panel is looked after.
const PANEL_TENDED_EVERY: Duration = Duration::from_secs(1);

/// How long the code of a panic is shown before the scale goes on.
const CODE_SHOWN: Duration = Duration::from_secs(3);

/// So that the watchdog is fed in time.
const LONGEST_SLEEP: Duration = Duration::from_secs(2);

/// A nap when the converter's line is low: it has just become ready, or it is shorted and would be ready for ever.
const BLIND_SLEEP: Duration = Duration(5);
