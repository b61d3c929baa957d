//! Simple estimators to compare with: averages with a range test.
//!
//! All know the unit's true one-sample noise, which a real device would have to find out: a favour to them.

use std::collections::VecDeque;

use super::indicator::{Indicator, Shown, Stated};
use crate::world::Calibration;

/// Moving average of the last `length` samples, each the median of the last five if `median`; steady while they lie within a range.
#[derive(Debug)]
pub(crate) struct MovingAverage {
    calibration: Calibration,
    length: usize,
    median: bool,
    range_g: f64,
    raw: VecDeque<f64>,
    window: VecDeque<f64>,
    kept: Kept,
}

impl MovingAverage {
    /// For a unit with one-sample noise of `sigma_g`.
    #[must_use]
    pub(crate) fn new(calibration: Calibration, sigma_g: f64, length: usize, median: bool) -> Self {
        Self {
            calibration,
            length,
            median,
            range_g: range_of(length, sigma_g, median),
            raw: VecDeque::new(),
            window: VecDeque::new(),
            kept: Kept::default(),
        }
    }
}

impl Indicator for MovingAverage {
    fn sample(&mut self, _t_ms: u64, raw: i32) -> Shown {
        let mut value = self.calibration.grams(f64::from(raw));
        if self.median {
            push(&mut self.raw, value, 5);
            value = median(&self.raw);
        }
        push(&mut self.window, value, self.length);
        let mean = self.window.iter().sum::<f64>() / self.window.len() as f64;
        let steady = self.window.len() == self.length && range(&self.window) <= self.range_g;
        self.kept.show(mean, steady)
    }

    fn keep(&mut self) -> Option<usize> {
        self.kept.keep()
    }

    fn used(&self, before: usize, after: usize) -> Option<Stated> {
        self.kept.used(before, after)
    }
}

/// One-pole low-pass that starts anew where two samples in a row lie far off; steady while it hardly moves.
#[derive(Debug)]
pub(crate) struct OnePole {
    calibration: Calibration,
    jump_g: f64,
    range_g: f64,
    level: Option<f64>,
    far: u32,
    levels: VecDeque<f64>,
    kept: Kept,
}

impl OnePole {
    /// For a unit with one-sample noise of `sigma_g`.
    #[must_use]
    pub(crate) fn new(calibration: Calibration, sigma_g: f64) -> Self {
        Self {
            calibration,
            jump_g: (6.0 * sigma_g).max(0.15),
            range_g: (1.2 * sigma_g).max(0.02),
            level: None,
            far: 0,
            levels: VecDeque::new(),
            kept: Kept::default(),
        }
    }
}

impl Indicator for OnePole {
    fn sample(&mut self, _t_ms: u64, raw: i32) -> Shown {
        let value = self.calibration.grams(f64::from(raw));
        let level = self.level.get_or_insert(value);
        self.far = if (value - *level).abs() > self.jump_g {
            self.far + 1
        } else {
            0
        };
        if self.far >= 2 {
            *level = value;
            self.far = 0;
        } else {
            *level += (value - *level) / 10.0;
        }
        let level = *level;
        push(&mut self.levels, level, 10);
        let steady = self.levels.len() == 10 && range(&self.levels) <= self.range_g;
        self.kept.show(level, steady)
    }

    fn keep(&mut self) -> Option<usize> {
        self.kept.keep()
    }

    fn used(&self, before: usize, after: usize) -> Option<Stated> {
        self.kept.used(before, after)
    }
}

/// Zero by the first steady level, the last steady level, and those kept. No uncertainty is stated.
#[derive(Debug, Default)]
pub(crate) struct Kept {
    zero: Option<f64>,
    now: Option<f64>,
    loads: Vec<f64>,
}

impl Kept {
    /// Notes what is shown, and shows it rounded to 0.1 g without any hysteresis.
    pub(crate) fn show(&mut self, grams: f64, steady: bool) -> Shown {
        if steady {
            self.zero.get_or_insert(grams);
        }
        let grams = grams - self.zero.unwrap_or(0.0);
        self.now = steady.then_some(grams);
        Shown {
            grams: Some(grams),
            tenths: Some((grams * 10.0).round() as i64),
            steady,
        }
    }

    pub(crate) fn keep(&mut self) -> Option<usize> {
        self.loads.push(self.now?);
        Some(self.loads.len() - 1)
    }

    pub(crate) fn used(&self, before: usize, after: usize) -> Option<Stated> {
        Some(Stated {
            grams: self.loads.get(before)? - self.loads.get(after)?,
            interval: None,
        })
    }
}

/// Range that a quiet window of `length` samples keeps within, nearly always.
fn range_of(length: usize, sigma_g: f64, median: bool) -> f64 {
    let wide = if length > 8 { 5.2 } else { 4.7 };
    let wide = if median { 0.45 * wide } else { wide };
    (wide * sigma_g).max(0.03)
}

pub(crate) fn push(window: &mut VecDeque<f64>, value: f64, length: usize) {
    window.push_back(value);
    while window.len() > length {
        window.pop_front();
    }
}

fn range(window: &VecDeque<f64>) -> f64 {
    let (low, high) = window
        .iter()
        .fold((f64::MAX, f64::MIN), |(low, high), v| (low.min(*v), high.max(*v)));
    high - low
}

fn median(window: &VecDeque<f64>) -> f64 {
    let mut sorted: Vec<f64> = window.iter().copied().collect();
    sorted.sort_by(f64::total_cmp);
    sorted[sorted.len() / 2]
}
