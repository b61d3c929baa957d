//! Supply: VSYS, a third of which the board brings to an ADC input, and whether a computer or a plug gives it.

use embedded_hal::digital::{InputPin, OutputPin};
use rp2040_hal::Adc;
use rp2040_hal::adc::AdcPin;
use rp2040_hal::gpio::bank0::{Gpio23, Gpio24, Gpio25, Gpio29};
use rp2040_hal::gpio::{FunctionNull, FunctionSioInput, FunctionSioOutput, Interrupt, Pin, PullNone};
use yarn_scale_core::units::Millivolts;

type Output<Id> = Pin<Id, FunctionSioOutput, PullNone>;

/// What the board's own pads say about its supply, and tell it.
pub(crate) struct Supply {
    adc: Adc,
    third: AdcPin<Pin<Gpio29, FunctionNull, PullNone>>,
    /// High with 5 V on USB (a divider on the board).
    vbus: Pin<Gpio24, FunctionSioInput, PullNone>,
    regulator: Output<Gpio23>,
    _lamp: Output<Gpio25>,
}

impl Supply {
    /// Takes over the ADC and the pads.
    ///
    /// The regulator is told to run at a fixed frequency (GPIO 23 high) until [`Self::quiet`] says otherwise: in its saving mode it lets
    /// 3.3 V ripple, which a converter that is fed from there sees (Pico data sheet, "Powerchain"). The lamp stays off.
    ///
    /// # Panics
    /// If the pin had no ADC; GPIO 29 has one.
    pub(crate) fn new(
        adc: Adc,
        third: Pin<Gpio29, FunctionNull, PullNone>,
        vbus: Pin<Gpio24, FunctionSioInput, PullNone>,
        mut regulator: Output<Gpio23>,
        mut lamp: Output<Gpio25>,
    ) -> Self {
        // A pin that cannot be written to does not exist on this chip.
        let _ = regulator.set_high();
        let _ = lamp.set_low();
        // A plug that comes or goes ends a sleep.
        vbus.set_interrupt_enabled(Interrupt::EdgeHigh, true);
        vbus.set_interrupt_enabled(Interrupt::EdgeLow, true);
        Self {
            adc,
            third: AdcPin::new(third).expect("GPIO 29 is an ADC input"),
            vbus,
            regulator,
            _lamp: lamp,
        }
    }

    /// Keeps the regulator's ripple away while the converter runs; without it, saving is better.
    pub(crate) fn quiet(&mut self, quiet: bool) {
        let _ = self.regulator.set_state(quiet.into());
    }

    /// Arms a plug to end the sleep of all clocks, unless it is there already; says whether it did.
    pub(crate) fn arm(&mut self) -> bool {
        self.vbus.clear_interrupt(Interrupt::EdgeHigh);
        self.vbus.set_dormant_wake_enabled(Interrupt::EdgeHigh, true);
        self.vbus.is_low().unwrap_or(true)
    }

    /// Ends that.
    pub(crate) fn disarm(&mut self) {
        self.vbus.set_dormant_wake_enabled(Interrupt::EdgeHigh, false);
    }

    /// VSYS now: the mean of a few conversions (2 us each), or `None` if the ADC fails.
    pub(crate) fn millivolts(&mut self) -> Option<Millivolts> {
        let mut sum = 0;
        for _ in 0..CONVERSIONS {
            let reading: u16 = self.adc.read(&mut self.third).ok()?;
            sum += u32::from(reading);
        }
        let millivolts = sum * DIVIDER * REFERENCE_MV / (CONVERSIONS * FULL_SCALE);
        u16::try_from(millivolts).ok().map(Millivolts)
    }

    /// Whether USB gives 5 V.
    pub(crate) fn on_usb(&mut self) -> bool {
        self.vbus.clear_interrupt(Interrupt::EdgeHigh);
        self.vbus.clear_interrupt(Interrupt::EdgeLow);
        self.vbus.is_high().unwrap_or(false)
    }
}

/// Conversions in a mean.
const CONVERSIONS: u32 = 8;

/// VSYS over what the ADC sees (Pico data sheet, schematic).
const DIVIDER: u32 = 3;

/// The ADC's reference, the board's 3.3 V, mV; good to a few percent, which is enough to tell tired cells.
const REFERENCE_MV: u32 = 3_300;

/// Steps of the ADC.
const FULL_SCALE: u32 = 4_096;
