//! The buzzer, if one is fitted: what each sound is, and when it ends. A passive piezo, driven by whatever makes a square wave.

use yarn_scale_core::board::Tone;
use yarn_scale_core::units::{Duration, Instant};

/// What makes a square wave on the piezo's wire.
pub trait SquareWave {
    /// Sounds with that period, us, until told otherwise.
    fn sound(&mut self, period_us: u16);

    /// Ends the sound; the wire is low afterwards, since a piezo that is held high stays bent.
    fn silence(&mut self);
}

/// The buzzer on its wire.
#[derive(Debug)]
pub struct Buzzer<Wave> {
    wave: Wave,
    until: Option<Instant>,
}

impl<Wave: SquareWave> Buzzer<Wave> {
    /// A buzzer on a wave that is silent.
    pub const fn new(wave: Wave) -> Self {
        Self { wave, until: None }
    }

    /// What makes the wave.
    pub const fn wave(&mut self) -> &mut Wave {
        &mut self.wave
    }

    /// Whether a tone sounds.
    #[must_use]
    pub const fn sounds(&self) -> bool {
        self.until.is_some()
    }

    /// Begins a tone.
    pub fn sound(&mut self, tone: Tone, now: Instant) {
        let (period_us, length) = match tone {
            Tone::Noted => (370, Duration(60)),
            Tone::Refused => (1_111, Duration(200)),
        };
        self.wave.sound(period_us);
        self.until = Some(now + length);
    }

    /// Ends the tone when it is time; otherwise says when that will be.
    pub fn tend(&mut self, now: Instant) -> Option<Instant> {
        let until = self.until?;
        if now < until {
            return Some(until);
        }
        self.wave.silence();
        self.until = None;
        None
    }
}
