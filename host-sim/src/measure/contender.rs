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
    /// Moving average of 8 and a range test.
    Average8,
    /// Moving average of 16 and a range test.
    Average16,
    /// Median of 5, then a moving average of 8.
    MedianAverage,
    /// One-pole low-pass with jump reset.
    OnePole,
    /// Kalman filter with CUSUM.
    Kalman,
}

impl Contender {
    /// All of them, ours first.
    pub const ALL: [Self; 6] = [
        Self::Ours,
        Self::Average8,
        Self::Average16,
        Self::MedianAverage,
        Self::OnePole,
        Self::Kalman,
    ];

    /// For a table.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Ours => "this scale",
            Self::Average8 => "moving average of 8 + range test",
            Self::Average16 => "moving average of 16 + range test",
            Self::MedianAverage => "median 5 + moving average 8",
            Self::OnePole => "one-pole low-pass, jump reset",
            Self::Kalman => "Kalman with CUSUM",
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
            Self::Ours => {
                Box::new(Ours::new(calibration, recording.rate).expect("the calibration of a simulated unit is sound"))
            }
            Self::Average8 => Box::new(MovingAverage::new(calibration, sigma, 8, false)),
            Self::Average16 => Box::new(MovingAverage::new(calibration, sigma, 16, false)),
            Self::MedianAverage => Box::new(MovingAverage::new(calibration, sigma, 8, true)),
            Self::OnePole => Box::new(OnePole::new(calibration, sigma)),
            Self::Kalman => Box::new(Kalman::new(calibration, sigma)),
        }
    }
}
