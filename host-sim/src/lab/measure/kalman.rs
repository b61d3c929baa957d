//! A scalar Kalman filter with a two-sided CUSUM test on its innovations (Page, 1954): the textbook answer to "level with jumps".

use super::indicator::{Indicator, Shown, Stated};
use super::reference::Kept;
use crate::world::Calibration;

/// Level by Kalman filter, starting anew at each alarm.
#[derive(Debug)]
pub(crate) struct Kalman {
    calibration: Calibration,
    variance: f64,
    level: f64,
    level_variance: f64,
    sums: [f64; 2],
    outlier: bool,
    since_alarm: u32,
    kept: Kept,
}

impl Kalman {
    /// For a unit with one-sample noise of `sigma_g`.
    #[must_use]
    pub(crate) fn new(calibration: Calibration, sigma_g: f64) -> Self {
        Self {
            calibration,
            variance: sigma_g * sigma_g,
            level: 0.0,
            level_variance: f64::INFINITY,
            sums: [0.0; 2],
            outlier: false,
            since_alarm: 0,
            kept: Kept::default(),
        }
    }
}

impl Indicator for Kalman {
    fn sample(&mut self, _t_ms: u64, raw: i32) -> Shown {
        let value = self.calibration.grams(f64::from(raw));
        self.level_variance += WALK * WALK * self.variance;
        let innovation = value - self.level;
        let score = innovation / (self.level_variance.min(1e12) + self.variance).sqrt();
        // One sample far off is not believed; the second is.
        self.outlier = score.abs() > FAR && !self.outlier && self.level_variance.is_finite();
        if self.outlier {
            return self.kept.show(self.level, false);
        }
        self.sums[0] = (self.sums[0] + score - SLACK).max(0.0);
        self.sums[1] = (self.sums[1] - score - SLACK).max(0.0);
        self.since_alarm += 1;
        if self.level_variance.is_infinite() || self.sums.iter().any(|sum| *sum > ALARM) {
            self.level = value;
            self.level_variance = self.variance;
            self.sums = [0.0; 2];
            self.since_alarm = 0;
        } else {
            let gain = self.level_variance / (self.level_variance + self.variance);
            self.level += gain * innovation;
            self.level_variance *= 1.0 - gain;
        }
        let steady = self.since_alarm >= QUIET_SAMPLES && self.sums.iter().all(|sum| *sum < CALM);
        self.kept.show(self.level, steady)
    }

    fn keep(&mut self) -> Option<usize> {
        self.kept.keep()
    }

    fn used(&self, before: usize, after: usize) -> Option<Stated> {
        self.kept.used(before, after)
    }
}

/// Random walk of the level a sample, in one-sample standard deviations.
const WALK: f64 = 0.08;
/// Innovation of an outlier, standard deviations.
const FAR: f64 = 6.0;
const SLACK: f64 = 0.75;
const ALARM: f64 = 7.0;
const CALM: f64 = 4.5;
const QUIET_SAMPLES: u32 = 10;
