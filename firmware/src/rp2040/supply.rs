//! Supply voltage: VSYS, a third of which the board brings to an ADC input.

use rp2040_hal::Adc;
use rp2040_hal::adc::AdcPin;
use rp2040_hal::gpio::bank0::Gpio29;
use rp2040_hal::gpio::{FunctionNull, Pin, PullDown};
use yarn_scale_core::units::Millivolts;

type Wire = Pin<Gpio29, FunctionNull, PullDown>;

/// The ADC on its input.
pub(crate) struct Supply {
    adc: Adc,
    input: AdcPin<Wire>,
}

impl Supply {
    /// Takes over the ADC.
    ///
    /// # Panics
    /// If the pin had no ADC; GPIO 29 has one.
    pub(crate) fn new(adc: Adc, wire: Wire) -> Self {
        Self {
            adc,
            input: AdcPin::new(wire).expect("GPIO 29 is an ADC input"),
        }
    }

    /// VSYS now: the mean of a few conversions (2 us each), or `None` if the ADC fails.
    pub(crate) fn millivolts(&mut self) -> Option<Millivolts> {
        let mut sum = 0;
        for _ in 0..CONVERSIONS {
            let reading: u16 = self.adc.read(&mut self.input).ok()?;
            sum += u32::from(reading);
        }
        let millivolts = sum * DIVIDER * REFERENCE_MV / (CONVERSIONS * FULL_SCALE);
        u16::try_from(millivolts).ok().map(Millivolts)
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
