//! The level of the load and whether it may be trusted.

use crate::converter::SampleRate;
use crate::signal::check::CheckedSample;
use crate::signal::noise::Noise;
use crate::signal::segment::{Change, LENGTH, Segment};
use crate::signal::tick::Ticker;
use crate::units::{FineCounts, Instant};

/// A level that the estimator trusts. Only settling makes one.
///
/// ```compile_fail
/// use yarn_scale_core::signal::SteadyLevel;
/// use yarn_scale_core::units::{FineCounts, Instant};
/// let forged = SteadyLevel { level: FineCounts(0), se: 1.0, at: Instant(0) };
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SteadyLevel {
    level: FineCounts,
    se: f32,
    at: Instant,
}

impl SteadyLevel {
    /// The level, in the converter's own scale.
    #[must_use]
    pub const fn level(self) -> FineCounts {
        self.level
    }

    /// Standard error of the level from noise alone, counts.
    #[must_use]
    pub const fn se(self) -> f32 {
        self.se
    }

    /// When its last sample was read.
    #[must_use]
    pub const fn at(self) -> Instant {
        self.at
    }
}

/// What is known after a sample.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Best estimate of the level now, steady or not; a median of three while it moves, so that no single word shows.
    pub level: FineCounts,
    /// Standard error of the level from noise, counts.
    pub se: f32,
    /// The level again, if it may be trusted.
    pub steady: Option<SteadyLevel>,
    /// The load has just jumped.
    pub jumped: bool,
    /// Standard deviation of one tick at rest, as this unit has shown it so far, counts.
    pub noise: f32,
}

/// Estimates the level from checked samples.
#[derive(Clone, Debug)]
pub struct Estimator {
    ticker: Ticker,
    noise: Noise,
    segment: Segment,
    tolerance: f32,
    at: Option<Instant>,
    longest_gap: u32,
    reading: Option<Reading>,
}

impl Estimator {
    /// An estimator that trusts a level when it is within half of `division` counts, 0.1 g or so.
    #[must_use]
    pub fn new(rate: SampleRate, division: f32) -> Self {
        Self {
            ticker: Ticker::new(rate),
            noise: Noise::new(),
            segment: Segment::new(),
            tolerance: 0.5 * division.abs(),
            at: None,
            longest_gap: LONGEST_GAP,
            reading: None,
        }
    }

    /// The unit's own noise as learnt so far.
    #[must_use]
    pub const fn noise(&self) -> &Noise {
        &self.noise
    }

    /// What the last sample left, if there has been any since the last [`Self::interrupt`].
    #[must_use]
    pub const fn reading(&self) -> Option<Reading> {
        self.reading
    }

    /// Forgets the level, not the noise: the samples that follow have nothing to do with those before.
    pub const fn interrupt(&mut self) {
        self.segment.clear();
        self.reading = None;
    }

    /// Takes a sample and says what is known now.
    pub fn take(&mut self, sample: CheckedSample) -> Option<Reading> {
        let at = sample.at();
        if self.at.is_some_and(|before| at.since(before).0 > self.longest_gap) {
            self.interrupt();
        }
        self.at = Some(at);
        if let Some(reading) = &mut self.reading {
            reading.jumped = false;
        }
        let gate = GATE * self.noise.sigma();
        for tick in self.ticker.take(sample.counts(), gate as i32) {
            let change = self.segment.take(tick, &self.noise);
            self.reading = Some(self.judge(change, at));
        }
        self.reading
    }

    fn judge(&mut self, change: Change, at: Instant) -> Reading {
        let settled = self.segment.len();
        if settled >= 5 {
            let per_count = FineCounts::PER_COUNT as f32;
            let newest = self.segment.back(0).0;
            let one = newest.wrapping_sub(self.segment.back(1).0) as f32 / per_count;
            let three = newest.wrapping_sub(self.segment.back(3).0) as f32 / per_count;
            self.noise.learn(one, three);
        }
        let averaged = settled.min(LENGTH);
        let se = self.noise.standard_error(averaged);
        let is_steady = settled >= 4 && CERTAIN * se < self.tolerance;
        let level = if settled >= 2 {
            self.segment.mean(averaged)
        } else {
            median(self.segment.back(0), self.segment.back(1), self.segment.back(2))
        };
        Reading {
            level,
            se,
            steady: is_steady.then_some(SteadyLevel { level, se, at }),
            jumped: matches!(change, Change::Jump(_)),
            noise: self.noise.sigma(),
        }
    }
}

fn median(a: FineCounts, b: FineCounts, c: FineCounts) -> FineCounts {
    a.min(b).max(a.max(b).min(c))
}

/// Standard deviations beyond which a word does not fit a calm neighbourhood.
const GATE: f32 = 6.0;
/// Standard errors that must fit into the tolerance: 99.9 % (normal distribution, two-sided).
const CERTAIN: f32 = 3.29;
/// Time without a sample after which nothing before counts, ms: the converter may have been reset and settles anew.
const LONGEST_GAP: u32 = 700;
