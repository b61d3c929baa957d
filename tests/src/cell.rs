//! A scale on a made-up cell: what lies on it, how its zero wanders and how noisy it is are told by the test, and nothing else happens.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::{Calibration, Scale, ScaleEvent, SteadyLoad};

/// Counts for a gram of a cell for 500 g of 1 mV/V on this converter; a cell for 1 kg gives half as many.
pub const PER_GRAM: f64 = 4_294.967;
/// Word of the empty pan by the calibration.
pub const EMPTY: i32 = 120_000;

/// The scale, its cell and its clock.
#[derive(Clone, Debug)]
pub struct Cell {
    /// The scale under test.
    pub scale: Scale,
    /// Grams on the pan.
    pub load: f64,
    /// How far the zero has moved from the calibration's, grams.
    pub zero: f64,
    /// Milliseconds since power-on.
    pub now: u64,
    per_gram: f64,
    /// Counts to either side of one of the two parts of the noise.
    pub spread: i32,
    state: u32,
}

impl Cell {
    /// For a cell of so many counts a gram, capacity 500 g, ten samples a second; not a sample yet.
    #[must_use]
    pub fn new(per_gram: f64) -> Self {
        let calibration = Calibration::straight(FineCounts(EMPTY * 16), per_gram as f32).expect("sound");
        Self::with(calibration, per_gram)
    }

    /// The same with another calibration of that cell.
    #[must_use]
    pub fn with(calibration: Calibration, per_gram: f64) -> Self {
        Self {
            scale: Scale::new(calibration, Milligrams::from_grams(500), SampleRate::Ten, None),
            load: 0.0,
            zero: 0.0,
            now: 0,
            per_gram,
            spread: 30,
            state: 1,
        }
    }

    /// Presses ZERO if the scale asks whether its pan is empty, and it is.
    pub fn answer(&mut self) -> bool {
        self.load == 0.0 && self.scale.is_perhaps_empty() && self.scale.zero()
    }

    /// One sample of this word.
    pub fn word(&mut self, word: i32) -> Option<ScaleEvent> {
        self.now += 100;
        self.scale.sample(Instant(self.now), Ok(RawSample(Counts(word))))
    }

    /// One sample of what lies there, with a triangular noise of some 25 counts.
    pub fn sample(&mut self) -> Option<ScaleEvent> {
        let mut noise = 0;
        for _ in 0..2 {
            self.state = self.state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            noise += (self.state >> 16) as i32 % (2 * self.spread + 1) - self.spread;
        }
        self.word(EMPTY + ((self.load + self.zero) * self.per_gram).round() as i32 + noise)
    }

    /// Rests for so many seconds; the zero goes on by `drift` grams in all.
    pub fn rest(&mut self, seconds: f64, drift: f64) -> Vec<ScaleEvent> {
        let samples = (seconds * 10.0) as u32;
        let mut events = Vec::new();
        for _ in 0..samples {
            self.zero += drift / f64::from(samples);
            events.extend(self.sample());
        }
        events
    }

    /// Puts so many grams on the pan, instead of what is there, and gives the load as it settles.
    pub fn settle(&mut self, grams: f64) -> SteadyLoad {
        self.load = grams;
        for _ in 0..100 {
            if let Some(ScaleEvent::Settled(load)) = self.sample() {
                return load;
            }
        }
        panic!("{grams} g did not settle in ten seconds");
    }

    /// Takes everything off until the pan is found empty; asked whether it is, ZERO is pressed.
    pub fn empty(&mut self) {
        self.load = 0.0;
        for _ in 0..100 {
            if self.sample() == Some(ScaleEvent::Emptied) || self.answer() {
                return;
            }
        }
        panic!("the pan was not found empty in ten seconds");
    }
}
