//! A square wave by the PWM, which needs no attention.

use embedded_hal::pwm::SetDutyCycle;
use rp2040_hal::gpio::bank0::Gpio14;
use rp2040_hal::gpio::{AnyPin, FunctionPwm, OutputOverride, Pin, PullNone};
use rp2040_hal::pwm::{FreeRunning, Pwm7, Slice};
use yarn_scale_core::board::Speed;
use yarn_scale_firmware::buzzer::SquareWave;

/// The first channel of PWM slice 7.
pub(crate) struct Wave {
    slice: Slice<Pwm7, FreeRunning>,
    wire: Pin<Gpio14, FunctionPwm, PullNone>,
}

impl Wave {
    /// Takes over slice and wire, which is held low at once. The slice runs until the first tone has ended: so that the first period,
    /// the longest there is, is over before one begins.
    pub(crate) fn new(mut slice: Slice<Pwm7, FreeRunning>, wire: impl AnyPin<Id = Gpio14, Pull = PullNone>) -> Self {
        slice.default_config();
        slice.set_div_int(CLOCK_DIVISOR);
        let mut wire = slice.channel_a.output_to(wire);
        wire.set_output_override(OutputOverride::AlwaysLow);
        slice.enable();
        Self { slice, wire }
    }

    /// The processor runs at another speed from now on: a tone keeps its pitch, and without one nothing counts on.
    pub(crate) fn run_at(&mut self, speed: Speed, sounds: bool) {
        if !sounds {
            self.slice.disable();
        }
        self.slice.set_div_int(match speed {
            Speed::Slow => SLOW_DIVISOR,
            Speed::Fast => CLOCK_DIVISOR,
        });
    }
}

impl SquareWave for Wave {
    fn sound(&mut self, period_us: u16) {
        self.slice.set_top(period_us - 1);
        // Half of the period high; a level within the period cannot be refused.
        let _ = self.slice.channel_a.set_duty_cycle(period_us / 2);
        self.slice.enable();
        self.wire.set_output_override(OutputOverride::DontInvert);
    }

    /// The wire is held low from outside the PWM, which takes a new level over at the end of a period only: stopped before, it
    /// would leave the wire wherever it stood (RP2040 data sheet, "PWM": the compare values are double-buffered).
    fn silence(&mut self) {
        self.wire.set_output_override(OutputOverride::AlwaysLow);
        self.slice.disable();
    }
}

/// Cycles of the fast processor in a microsecond, which the PWM counts.
const CLOCK_DIVISOR: u8 = 125;
/// The same of the slow one.
const SLOW_DIVISOR: u8 = 12;
