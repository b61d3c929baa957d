//! Who takes part.

use super::indicator::Indicator;
use super::kalman::Kalman;
use super::ours::Ours;
use super::recording::Recording;
use super::reference::{MovingAverage, OnePole};

/// An estimator by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Contender {
    /// The core's own.
    Ours,
    /// The core's own, giving its steady sign at other odds: 64ths of a natural logarithm.
    OursAt(i16),
    /// Moving average of so many and a range test.
    Average(usize),
    /// Median of 5, then a moving average of 8.
    MedianAverage,
    /// One-pole low-pass with jump reset.
    OnePole,
    /// Kalman filter with CUSUM.
    Kalman,
}

impl Contender {
    /// Those of the main table, ours first.
    pub const ALL: [Self; 6] = [
        Self::Ours,
        Self::Average(8),
        Self::Average(16),
        Self::MedianAverage,
        Self::OnePole,
        Self::Kalman,
    ];

    /// For a table.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Ours => "this scale".to_owned(),
            Self::OursAt(odds) => format!("this scale, steady at odds of {:.1}", (f64::from(odds) / 64.0).exp()),
            Self::Average(length) => format!("moving average of {length} + range test"),
            Self::MedianAverage => "median 5 + moving average 8".to_owned(),
            Self::OnePole => "one-pole low-pass, jump reset".to_owned(),
            Self::Kalman => "Kalman with CUSUM".to_owned(),
        }
    }

    /// A fresh one for this recording's unit, as after power-on.
    ///
    /// # Panics
    /// If the core refuses the calibration of a simulated unit: that is a bug worth stopping for.
    #[must_use]
    pub fn build(self, recording: &Recording) -> Box<dyn Indicator> {
        let calibration = recording.calibration;
        let sigma = recording.unit.white_g(recording.rate);
        match self {
            Self::Ours => Box::new(Ours::new(calibration, recording.rate, None).expect(SOUND)),
            Self::OursAt(odds) => Box::new(Ours::new(calibration, recording.rate, Some(odds)).expect(SOUND)),
            Self::Average(length) => Box::new(MovingAverage::new(calibration, sigma, length, false)),
            Self::MedianAverage => Box::new(MovingAverage::new(calibration, sigma, 8, true)),
            Self::OnePole => Box::new(OnePole::new(calibration, sigma)),
            Self::Kalman => Box::new(Kalman::new(calibration, sigma)),
        }
    }
}

const SOUND: &str = "the calibration of a simulated unit is sound";
