//! The level of the load and whether it may be trusted.

use crate::converter::SampleRate;
use crate::math::{whole, whole_size};
use crate::signal::check::CheckedSample;
use crate::signal::features::{COUNT, Features, Measure, Past, Stretch, features, roughness};
use crate::signal::noise::Noise;
use crate::signal::segment::{Change, Segment};
use crate::signal::steadiness::{self, Tree};
use crate::signal::thresholds::Thresholds;
use crate::signal::tick::Decimator;
use crate::units::{Counts, FineCounts, Instant};

/// A level that the estimator trusts. Only settling makes one.
///
/// ```compile_fail
/// use yarn_scale_core::signal::SteadyLevel;
/// use yarn_scale_core::units::{FineCounts, Instant};
/// let forged = SteadyLevel { level: FineCounts(0), se: 1.0, at: Instant(0), ticks: 9 };
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SteadyLevel {
    level: FineCounts,
    se: f32,
    at: Instant,
    ticks: u16,
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

    /// Of how many ticks it is the mean.
    #[must_use]
    pub const fn ticks(self) -> u16 {
        self.ticks
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
    /// This sample completed a tick; otherwise all is as it was, but for a steady sign that may be gone.
    pub fresh: bool,
    /// The load has just jumped.
    pub jumped: bool,
    /// Ticks since the last jump.
    pub age: usize,
    /// Ticks since a level was last trusted.
    pub lost_for: u16,
    /// Standard deviation of one tick at rest, as this unit has shown it so far, counts.
    pub noise: f32,
}

/// Estimates the level from checked samples.
#[derive(Clone, Debug)]
pub struct Estimator {
    decimator: Decimator,
    noise: Noise,
    segment: Segment,
    past: Past,
    features: Features,
    thresholds: Thresholds,
    tolerance: f32,
    upwards: i32,
    rate: SampleRate,
    trees: &'static [Tree],
    alarmed: u8,
    at: Option<Instant>,
    reading: Option<Reading>,
}

impl Estimator {
    /// An estimator that trusts a level when it is within half of `division` counts, 0.1 g or so; negative where more load gives
    /// fewer counts.
    #[must_use]
    pub fn new(rate: SampleRate, division: f32) -> Self {
        Self {
            decimator: Decimator::new(rate),
            noise: Noise::new(),
            segment: Segment::new(),
            past: Past::default(),
            features: [0; COUNT],
            thresholds: Thresholds::usual(rate),
            tolerance: 0.5 * division.abs(),
            upwards: if division < 0.0 { -1 } else { 1 },
            rate,
            trees: steadiness::trees(rate),
            alarmed: 0,
            at: None,
            reading: None,
        }
    }

    /// Makes it surer or quicker.
    pub const fn set_thresholds(&mut self, thresholds: Thresholds) {
        self.thresholds = thresholds;
    }

    /// Judges by other trees than the program's own: for growing them.
    pub const fn judge_by(&mut self, trees: &'static [Tree]) {
        self.trees = trees;
    }

    /// Names the level of the empty pan, which a load that has just been taken off is likely to return to.
    pub const fn expect(&mut self, level: FineCounts) {
        self.past.expected = Some(level);
    }

    /// Conversions a second for which it judges.
    #[must_use]
    pub const fn rate(&self) -> SampleRate {
        self.rate
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

    /// Whether the last word contradicts the reading, which stands until the next word says whether it was spoilt.
    #[must_use]
    pub const fn is_contradicted(&self) -> bool {
        self.decimator.holds()
    }

    /// How the level moves, counts a minute: the newer half of up to twelve seconds without a jump against the older one; 0 within the
    /// first three.
    #[must_use]
    pub fn drift(&self) -> f32 {
        let half = self.segment.len() >> 1;
        if half < LEAST_HALF {
            return 0.0;
        }
        let apart = self
            .segment
            .mean(half)
            .0
            .saturating_sub(self.segment.mean_of(half, half).0);
        apart as f32 / FineCounts::PER_COUNT as f32 * TICKS_A_MINUTE / half as f32
    }

    /// By how many counts the step between the two newest stretches of `ticks` differs from the one between those before, if so many are
    /// remembered of this level: an even drift has no part in it.
    #[must_use]
    pub fn bend(&self, ticks: usize) -> f32 {
        let [new, middle, old] = [0, 1, 2].map(|nth: usize| self.segment.mean_of(nth.saturating_mul(ticks), ticks).0);
        let bend = new.saturating_sub(middle).saturating_sub(middle.saturating_sub(old));
        bend as f32 / FineCounts::PER_COUNT as f32
    }

    /// Forgets the level, not the noise: the samples that follow have nothing to do with those before.
    pub const fn interrupt(&mut self) {
        self.decimator.interrupt();
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
            reading.fresh = false;
        }
        let gate = self.noise.fine_sigma().wrapping_mul(GATE) >> 4;
        for tick in self.decimator.take(sample.counts(), gate.cast_signed()) {
            // A sample that another was held for makes two ticks, of which the first one jumps.
            let before = self.reading.is_some_and(|reading| reading.jumped);
            let mut reading = self.judge(tick, at);
            reading.jumped |= before;
            self.reading = Some(reading);
        }
        self.look_early();
        self.reading
    }

    /// At 80 a second a touch shows in the words before it shows in a tick: the sign goes at once, and stays away for two ticks.
    fn look_early(&mut self) {
        let Some(reading) = self.reading.as_mut() else { return };
        let Some(steady) = reading.steady else { return };
        let level = Counts(steady.level.0 >> 4);
        let early = self.decimator.early(level);
        if early > 0 && early as f32 > ALARM * self.noise.sigma() {
            reading.steady = None;
            reading.jumped = true;
            self.alarmed = ALARM_TICKS;
        }
    }

    fn judge(&mut self, tick: FineCounts, at: Instant) -> Reading {
        let stood = self.segment.len();
        let change = self.segment.take(tick, &self.noise);
        if let Change::Jump(new) = change {
            self.remember(stood, new);
        }
        let len = self.segment.len();
        let level = if len >= 2 {
            self.segment.level()
        } else if stood == 0 {
            // There is nothing before the first tick to take a median with.
            tick
        } else {
            median(self.segment.back(0), self.segment.back(1), self.segment.back(2))
        };
        let was_steady = self.reading.is_some_and(|reading| reading.steady.is_some());
        let alarmed = self.alarmed > 0;
        self.alarmed = self.alarmed.saturating_sub(1);
        let jumped = matches!(change, Change::Jump(_));
        let se = self.noise.standard_error(len);
        let may_be = len >= 2 && !(jumped || alarmed) && se < self.largest_error(len);
        let voted = self.vote();
        let is_steady = may_be && voted >= i32::from(self.thresholds.enough(was_steady, len));
        if is_steady {
            self.past.trusted = Some(level);
            self.past.lost_for = 0;
        } else {
            self.past.lost_for = self.past.lost_for.saturating_add(1);
        }
        if len >= 5 && (is_steady || !self.noise.is_learnt()) {
            let from = |age| tick.0.wrapping_sub(self.segment.back(age).0);
            self.noise.learn(from(1), from(3));
        }
        Reading {
            level,
            se,
            steady: is_steady.then_some(SteadyLevel {
                level,
                se,
                at,
                ticks: u16::try_from(len).unwrap_or(u16::MAX),
            }),
            fresh: true,
            jumped,
            age: len,
            lost_for: self.past.lost_for,
            noise: self.noise.sigma(),
        }
    }

    /// Keeps what is worth it of the stretch of `stood` ticks that a jump has ended, `new` ticks ago.
    fn remember(&mut self, stood: usize, new: usize) {
        if stood < SHORTEST_STRETCH.saturating_add(new) {
            return;
        }
        let len = stood.saturating_sub(new).saturating_add(1).min(LONGEST_STRETCH);
        self.past.earlier = self.past.before;
        self.past.before = Stretch {
            level: self.segment.mean_of(new, len),
            len: u16::try_from(len).unwrap_or(u16::MAX),
            roughness: roughness(&self.segment, new, len, self.variance()),
        };
    }

    /// Largest standard error of a level that is trusted after `len` ticks, counts.
    fn largest_error(&self, len: usize) -> f32 {
        (SMALL_ERROR + PATIENT_ERROR * len.min(LONG) as f32) * self.tolerance
    }

    /// Asks the judge how the odds stand that nothing but the load acts on the pan.
    fn vote(&mut self) -> i32 {
        let by = Measure {
            variance: self.variance(),
            correlation: i8::try_from(whole(self.noise.correlation() * 64.0)).unwrap_or(i8::MAX),
            tolerance: whole_size(self.tolerance * FineCounts::PER_COUNT as f32),
            upwards: self.upwards,
        };
        self.features = features(&self.segment, &self.past, &by);
        steadiness::odds(&self.features, self.trees)
    }

    /// Variance of a tick at rest, square sixteenths of a count.
    const fn variance(&self) -> u64 {
        let sigma = self.noise.fine_sigma() as u64;
        sigma.wrapping_mul(sigma)
    }
}

fn median(a: FineCounts, b: FineCounts, c: FineCounts) -> FineCounts {
    a.min(b).max(a.max(b).min(c))
}

/// Standard deviations beyond which a word does not fit a calm neighbourhood.
const GATE: u32 = 6;
/// Distance of four words' mean from a trusted level, over one and a half times what any of the twelve before them was off, that takes
/// the sign away; standard deviations of a tick. Four words scatter about twice as much as a tick of 22 weighted ones, and the largest
/// of twelve is over six of these: by chance it never goes.
const ALARM: f32 = 3.0;
/// Ticks for which it stays away then.
const ALARM_TICKS: u8 = 2;
/// Largest standard error of a trusted level, of the tolerance: for a fresh segment,
const SMALL_ERROR: f32 = 0.20;
/// what every further tick without a jump adds to that, for a noisy unit must come to an end some time,
const PATIENT_ERROR: f32 = 0.025;
/// and for how many.
const LONG: usize = 14;
/// Time without a sample after which nothing before counts, ms: the converter may have been reset and settles anew.
const LONGEST_GAP: u32 = 700;
/// Ticks of half a segment from which drift is read.
const LEAST_HALF: usize = 16;
const TICKS_A_MINUTE: f32 = 600.0;
/// Ticks that make a stretch worth remembering.
const SHORTEST_STRETCH: usize = 3;
/// Ticks of a stretch that are looked at.
const LONGEST_STRETCH: usize = 32;
