//! The buzzer, if one is fitted: a short tone by the PWM, which needs no attention but an end.

use embedded_hal::pwm::SetDutyCycle;
use rp2040_hal::gpio::bank0::Gpio15;
use rp2040_hal::gpio::{AnyPin, FunctionPwm, Pin, PullDown};
use rp2040_hal::pwm::{FreeRunning, Pwm7, Slice};
use yarn_scale_core::board::Tone;
use yarn_scale_core::units::{Duration, Instant};

/// A passive piezo on the second channel of PWM slice 7.
pub(crate) struct Buzzer {
    slice: Slice<Pwm7, FreeRunning>,
    _wire: Pin<Gpio15, FunctionPwm, PullDown>,
    until: Option<Instant>,
}

impl Buzzer {
    /// A silent buzzer.
    pub(crate) fn new(mut slice: Slice<Pwm7, FreeRunning>, wire: impl AnyPin<Id = Gpio15, Pull = PullDown>) -> Self {
        slice.set_div_int(CLOCK_DIVISOR);
        let wire = slice.channel_b.output_to(wire);
        Self {
            slice,
            _wire: wire,
            until: None,
        }
    }

    /// Begins a tone.
    pub(crate) fn sound(&mut self, tone: Tone, now: Instant) {
        let (period_us, length) = match tone {
            Tone::Noted => (370, Duration(60)),
            Tone::Refused => (1_111, Duration(200)),
        };
        self.slice.set_top(period_us - 1);
        // Half of the period high; a level within the period cannot be refused.
        let _ = self.slice.channel_b.set_duty_cycle(period_us / 2);
        self.slice.enable();
        self.until = Some(now + length);
    }

    /// Ends the tone when it is time; otherwise says when that will be.
    pub(crate) fn tend(&mut self, now: Instant) -> Option<Instant> {
        let until = self.until?;
        if now < until {
            return Some(until);
        }
        let _ = self.slice.channel_b.set_duty_cycle(0);
        self.slice.disable();
        self.until = None;
        None
    }
}

/// Makes the PWM count microseconds of the 125 MHz system clock.
const CLOCK_DIVISOR: u8 = 125;
