//! The level of the load and whether it may be trusted.

use crate::converter::SampleRate;
use crate::signal::check::CheckedSample;
use crate::signal::features::{COUNT, Features, Past, Stretch, features, roughness};
use crate::signal::noise::Noise;
use crate::signal::segment::{Change, Segment};
use crate::signal::steadiness;
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

/// How sure the judge must be, 64ths of a natural logarithm of odds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strictness {
    /// To give the steady sign.
    pub give: i16,
    /// Below this it is taken away.
    pub take: i16,
}

impl Default for Strictness {
    fn default() -> Self {
        Self { give: 144, take: -32 }
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
    /// Ticks since the last jump.
    pub age: usize,
    /// Standard deviation of one tick at rest, as this unit has shown it so far, counts.
    pub noise: f32,
    /// What the judge says, 64ths of a natural logarithm of odds.
    pub score: i16,
}

/// Estimates the level from checked samples.
#[derive(Clone, Debug)]
pub struct Estimator {
    ticker: Ticker,
    noise: Noise,
    segment: Segment,
    past: Past,
    features: Features,
    strictness: Strictness,
    tolerance: f32,
    upwards: i32,
    at: Option<Instant>,
    reading: Option<Reading>,
}

impl Estimator {
    /// An estimator that trusts a level when it is within half of `division` counts, 0.1 g or so; negative where more load gives
    /// fewer counts.
    #[must_use]
    pub fn new(rate: SampleRate, division: f32) -> Self {
        Self {
            ticker: Ticker::new(rate),
            noise: Noise::new(),
            segment: Segment::new(),
            past: Past::default(),
            features: [0; COUNT],
            strictness: Strictness::default(),
            tolerance: 0.5 * division.abs(),
            upwards: if division < 0.0 { -1 } else { 1 },
            at: None,
            reading: None,
        }
    }

    /// Makes it surer or quicker.
    pub const fn set_strictness(&mut self, strictness: Strictness) {
        self.strictness = strictness;
    }

    /// Names the level of the empty pan, which a load that has just been taken off is likely to return to.
    pub const fn expect(&mut self, level: FineCounts) {
        self.past.expected = Some(level);
    }

    /// The unit's own noise as learnt so far.
    #[must_use]
    pub const fn noise(&self) -> &Noise {
        &self.noise
    }

    /// What the judge saw last.
    #[must_use]
    pub const fn features(&self) -> &Features {
        &self.features
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
        if self.at.is_some_and(|before| at.since(before).0 > LONGEST_GAP) {
            self.interrupt();
        }
        self.at = Some(at);
        if let Some(reading) = &mut self.reading {
            reading.jumped = false;
        }
        let gate = GATE * self.noise.sigma();
        for tick in self.ticker.take(sample.counts(), gate as i32) {
            self.reading = Some(self.judge(tick, at));
        }
        self.reading
    }

    fn judge(&mut self, tick: FineCounts, at: Instant) -> Reading {
        let sigma = self.noise.sigma() * FineCounts::PER_COUNT as f32;
        let variance = (sigma * sigma) as u64;
        let stood = self.segment.len();
        let change = self.segment.take(tick, &self.noise);
        if let Change::Jump(new) = change
            && stood >= SHORTEST_STRETCH.saturating_add(new)
        {
            let len = stood.saturating_sub(new).saturating_add(1).min(LONGEST_STRETCH);
            self.past.earlier = self.past.before;
            self.past.before = Stretch {
                level: self.segment.mean_of(new, len),
                len: u16::try_from(len).unwrap_or(u16::MAX),
                roughness: roughness(&self.segment, new, len, variance),
            };
        }
        let len = self.segment.len();
        self.features = features(
            &self.segment,
            &self.past,
            variance,
            (self.noise.correlation() * 64.0) as i8,
            (self.tolerance * FineCounts::PER_COUNT as f32) as u32,
            self.upwards,
        );
        let score = steadiness::score(&self.features);
        let se = self.noise.standard_error(len);
        let level = if len >= 2 {
            self.segment.mean(len)
        } else {
            median(self.segment.back(0), self.segment.back(1), self.segment.back(2))
        };
        let was_steady = self.reading.is_some_and(|reading| reading.steady.is_some());
        let jumped = matches!(change, Change::Jump(_));
        let enough = if was_steady {
            self.strictness.take
        } else {
            self.strictness.give
        };
        let patience = len.saturating_sub(PATIENT).min(LONGEST_PATIENCE);
        let enough = enough.saturating_sub(i16::try_from(patience).unwrap_or_default().saturating_mul(EASIER));
        let is_steady = len >= 2 && !jumped && se < WORST_ERROR * self.tolerance && score >= enough;
        if is_steady {
            self.past.trusted = Some(level);
            self.past.lost_for = 0;
        } else {
            self.past.lost_for = self.past.lost_for.saturating_add(1);
        }
        if is_steady || (!self.noise.is_learnt() && len >= 5) {
            let per_count = FineCounts::PER_COUNT as f32;
            let newest = self.segment.back(0).0;
            let one = newest.wrapping_sub(self.segment.back(1).0) as f32 / per_count;
            let three = newest.wrapping_sub(self.segment.back(3).0) as f32 / per_count;
            if len >= 5 {
                self.noise.learn(one, three);
            }
        }
        Reading {
            level,
            se,
            steady: is_steady.then_some(SteadyLevel { level, se, at }),
            jumped,
            age: len,
            noise: self.noise.sigma(),
            score,
        }
    }
}

fn median(a: FineCounts, b: FineCounts, c: FineCounts) -> FineCounts {
    a.min(b).max(a.max(b).min(c))
}

/// Standard deviations beyond which a word does not fit a calm neighbourhood.
const GATE: f32 = 6.0;
/// Largest standard error of a trusted level, of the tolerance.
const WORST_ERROR: f32 = 0.42;
/// Time without a sample after which nothing before counts, ms: the converter may have been reset and settles anew.
const LONGEST_GAP: u32 = 700;
/// Ticks that make a stretch worth remembering.
const SHORTEST_STRETCH: usize = 3;
/// Ticks of a stretch that are looked at.
const LONGEST_STRETCH: usize = 32;
/// Ticks without a jump after which the judge need not be quite so sure.
const PATIENT: usize = 7;
/// 64ths of a natural logarithm of odds by which it is easier with every further tick.
const EASIER: i16 = 12;
/// Ticks over which that goes on.
const LONGEST_PATIENCE: usize = 16;
