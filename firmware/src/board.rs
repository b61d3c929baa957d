//! The device as the core sees it: [`Pico`] hands out the parts.

use core::cell::RefCell;

use embedded_hal::digital::InputPin;
use embedded_hal_bus::i2c::RefCellDevice;
use rp2040_hal::Timer;
use rp2040_hal::gpio::bank0::{Gpio2, Gpio3};
use rp2040_hal::gpio::{FunctionSioInput, FunctionSioOutput, Interrupt as Edge, Pin, PullDown, PullUp};
use rp2040_hal::usb::UsbBus;
use usb_device::bus::UsbBusAllocator;
use yarn_scale_core::board::{Board, Climate, Levels, Tone};
use yarn_scale_core::converter::Hx711;
use yarn_scale_core::units::{Duration, Instant, Millivolts};
use yarn_scale_firmware::humidity::Humidity;
use yarn_scale_firmware::panel::Panel;
use yarn_scale_firmware::pins;

use crate::bus::Bus;
use crate::buzzer::Buzzer;
use crate::flash::Flash;
use crate::guard::InterruptsOff;
use crate::keys::Keys;
use crate::rest::Rest;
use crate::supply::Supply;
use crate::usb::Usb;
use crate::watchdog::{Guardian, Reset};

/// The converter on its wires.
pub(crate) type LoadCell =
    Hx711<Pin<Gpio2, FunctionSioOutput, PullDown>, Pin<Gpio3, FunctionSioInput, PullUp>, Timer, InterruptsOff>;

/// The parts that nothing else shares.
pub(crate) struct Wires {
    pub(crate) converter: LoadCell,
    pub(crate) keys: Keys,
    pub(crate) buzzer: Buzzer,
    pub(crate) rest: Rest,
    pub(crate) guardian: Guardian,
    pub(crate) timer: Timer,
    pub(crate) reset: Reset,
}

/// The yarn scale's board.
pub(crate) struct Pico<'a> {
    wires: Wires,
    supply: &'a RefCell<Supply>,
    panel: Panel<RefCellDevice<'a, Bus>>,
    humidity: Humidity<RefCellDevice<'a, Bus>>,
    usb: Usb<'a>,
    flash: Flash<'a>,
    panel_tended: Instant,
}

impl<'a> Pico<'a> {
    /// Puts the board together.
    pub(crate) fn new(
        wires: Wires,
        bus: &'a RefCell<Bus>,
        supply: &'a RefCell<Supply>,
        usb: &'a UsbBusAllocator<UsbBus>,
    ) -> Self {
        Self {
            wires,
            supply,
            panel: Panel::new(RefCellDevice::new(bus), pins::DISPLAY_ADDRESS),
            humidity: Humidity::new(RefCellDevice::new(bus), pins::HUMIDITY_ADDRESS),
            usb: Usb::new(usb),
            flash: Flash::new(supply),
            panel_tended: Instant(0),
        }
    }

    /// Sleeps for at most `span`, unless something happens before; sees to what needs seeing to whatever the core does.
    pub(crate) fn rest(&mut self, span: Duration) {
        self.wires.guardian.feed();
        let now = self.now();
        if now.since(self.panel_tended) >= PANEL_TENDED_EVERY && !self.panel.sending() {
            self.panel_tended = now;
            // One that does not answer is tried again next time.
            let _ = self.panel.tend();
        }
        self.usb.poll();
        let listens = self.listen_to_converter();
        let tone_ends = self.wires.buzzer.tend(now).map_or(LONGEST_SLEEP, |end| end.since(now));
        let longest = if listens { LONGEST_SLEEP } else { BLIND_SLEEP };
        self.wires.rest.sleep(span.min(tone_ends).min(longest));
        let now = self.now();
        self.wires.keys.attend(now);
    }

    /// Lets the converter's data line end the sleep by going low; one that is low already cannot.
    fn listen_to_converter(&mut self) -> bool {
        let data = self.wires.converter.data();
        let high = data.as_input().is_high().unwrap_or(true);
        data.set_interrupt_enabled(Edge::LevelLow, high);
        high
    }
}

impl<'a> Board for Pico<'a> {
    type Converter = LoadCell;
    type Screen = Panel<RefCellDevice<'a, Bus>>;
    type Link = Usb<'a>;
    type Flash = Flash<'a>;

    fn now(&mut self) -> Instant {
        Instant(self.wires.timer.get_counter().duration_since_epoch().to_millis())
    }

    fn converter(&mut self) -> &mut LoadCell {
        &mut self.wires.converter
    }

    fn levels(&mut self) -> Levels {
        let now = self.now();
        self.wires.keys.levels(now)
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

    fn beep(&mut self, tone: Tone) {
        let now = self.now();
        self.wires.buzzer.sound(tone, now);
    }
}

/// How often a panel is looked after.
const PANEL_TENDED_EVERY: Duration = Duration::from_secs(1);

/// So that the watchdog is fed in time.
const LONGEST_SLEEP: Duration = Duration::from_secs(2);

/// A nap when the converter's line is low: it has just become ready, or it is shorted and would be ready for ever.
const BLIND_SLEEP: Duration = Duration(5);
