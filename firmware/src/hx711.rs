//! Driver for the HX711 converter, over any two pins and a delay.
//!
//! The chip has no bus, only two lines. It pulls its data line low when a conversion is ready; each of 24 clock pulses then
//! shifts one bit out, most significant first, and one pulse more selects channel A at gain 128 for the next conversion and
//! sends the data line high again (HX711 data sheet, "Serial Interface" and its timing figure).
//!
//! Two traps, and what is done about them:
//! - A clock line that stays high for more than 60 us powers the chip down. Each high phase therefore runs inside
//!   [`Uninterrupted`]: no interrupt can stretch it. Between pulses, where the clock is low, interrupts may come.
//! - A floating line gives bits all the same. A conversion counts only if the data line was low before it, is high
//!   after it, and is not all ones; anything else is no conversion, and after half a second of those it is a fault.

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::{InputPin, OutputPin};

use yarn_scale_core::board::Converter;
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::units::{Counts, Duration, Instant};

/// Runs a few instructions that nothing may interrupt.
pub trait Uninterrupted {
    /// Runs `work` with interrupts held off.
    fn hold_off<R>(&mut self, work: impl FnOnce() -> R) -> R;
}

/// The HX711 on its clock pin (`PD_SCK`) and data pin (DOUT).
#[derive(Debug)]
pub struct Hx711<Clock, Data, Delay, Guard> {
    clock: Clock,
    data: Data,
    delay: Delay,
    guard: Guard,
    powered: bool,
    /// When a conversion last came, or waiting for one began.
    waiting_since: Option<Instant>,
    /// What a time-out would be called now.
    suspicion: ConverterFault,
}

impl<Clock, Data, Delay, Guard> Hx711<Clock, Data, Delay, Guard>
where
    Clock: OutputPin,
    Data: InputPin,
    Delay: DelayNs,
    Guard: Uninterrupted,
{
    /// Takes over the two pins and powers the chip up.
    pub fn new(clock: Clock, data: Data, delay: Delay, guard: Guard) -> Self {
        let mut driver = Self {
            clock,
            data,
            delay,
            guard,
            powered: false,
            waiting_since: None,
            suspicion: ConverterFault::Missing,
        };
        driver.power(true);
        driver
    }

    /// Whether the chip is powered up.
    pub const fn is_powered(&self) -> bool {
        self.powered
    }

    /// The data pin: its falling edge can wake a shell that sleeps until the next conversion.
    pub const fn data(&self) -> &Data {
        &self.data
    }

    /// Whether the data line is low: a conversion waits, or something is wrong.
    fn data_is_low(&mut self) -> bool {
        self.data.is_low().unwrap_or(false)
    }

    /// One clock pulse; the chip puts its next bit out at the rising edge, at most 0.1 us later.
    fn pulse(&mut self) {
        let (clock, delay) = (&mut self.clock, &mut self.delay);
        self.guard.hold_off(|| {
            // A pin that cannot be driven shows as a converter that does not answer.
            let _ = clock.set_high();
            delay.delay_us(HALF_PULSE_US);
            let _ = clock.set_low();
        });
        self.delay.delay_us(HALF_PULSE_US);
    }

    /// Shifts one conversion out; `None` if the lines did not behave as the chip's.
    fn shift(&mut self) -> Option<i32> {
        let mut bits: u32 = 0;
        for _ in 0..BITS {
            self.pulse();
            bits = (bits << 1) | u32::from(!self.data_is_low());
        }
        self.pulse();
        if self.data_is_low() {
            self.suspicion = ConverterFault::StuckLow;
            return None;
        }
        self.suspicion = ConverterFault::Missing;
        if bits == ALL_ONES {
            return None;
        }
        // Sign extension: the 24-bit two's complement moves to the top of the word and comes back down with its sign.
        Some((bits << (u32::BITS - BITS)).cast_signed() >> (u32::BITS - BITS))
    }
}

impl<Clock, Data, Delay, Guard> Converter for Hx711<Clock, Data, Delay, Guard>
where
    Clock: OutputPin,
    Data: InputPin,
    Delay: DelayNs,
    Guard: Uninterrupted,
{
    /// Takes the next conversion if one is ready: 24 bits in about 100 us.
    ///
    /// # Errors
    /// `WouldBlock` while none is ready or the chip is powered down. A fault once for every half second without one:
    /// `Missing` for a data line that stays high or reads all ones, `StuckLow` for one that stays low after its last bit.
    fn read(&mut self, now: Instant) -> nb::Result<RawSample, ConverterFault> {
        if !self.powered {
            return Err(nb::Error::WouldBlock);
        }
        if self.data_is_low()
            && let Some(counts) = self.shift()
        {
            self.waiting_since = Some(now);
            return Ok(RawSample(Counts(counts)));
        }
        let since = *self.waiting_since.get_or_insert(now);
        if now.since(since) < PATIENCE {
            return Err(nb::Error::WouldBlock);
        }
        self.waiting_since = Some(now);
        let fault = self.suspicion;
        self.suspicion = ConverterFault::Missing;
        Err(nb::Error::Other(fault))
    }

    /// Powers the chip down by a clock line that stays high, and up (which resets it) by one that goes low.
    fn power(&mut self, on: bool) {
        if on == self.powered {
            return;
        }
        if on {
            let _ = self.clock.set_low();
        } else {
            let _ = self.clock.set_high();
            // So that a power-up straight after this is one, and not a stray clock pulse.
            self.delay.delay_us(POWER_DOWN_US);
        }
        self.powered = on;
        self.waiting_since = None;
        self.suspicion = ConverterFault::Missing;
    }
}

/// Bits in a conversion.
const BITS: u32 = 24;

/// What an undriven line with a pull-up shifts in. As a conversion it is -1; dropping a true -1 costs one sample.
const ALL_ONES: u32 = 0x00FF_FFFF;

/// Time without a conversion that makes a fault: five conversions at the slower of the chip's rates, for it needs four to settle after
/// power-up.
const PATIENCE: Duration = Duration(500);

/// Clock high and clock low time, us (data sheet: 0.2 us at least; high 50 us at most). A delay that counts ticks of a timer can be
/// shorter by one of them, so one would be none.
const HALF_PULSE_US: u32 = 2;

/// Clock high time that powers the chip down for certain, us (data sheet: more than 60).
const POWER_DOWN_US: u32 = 80;
