//! The level of the load and whether it may be trusted.
//!
//! Where to stop between quick and sure is one number, [`Strictness::give`]. Measured at 10 samples a second on 4 080 simulated
//! handlings (`yarn-scale measure --tradeoff --seed 3`; 184 is in use):
//!
//! | give | hand-off to steady p50 / p95 / p99.9, s | error p50 / p95 / p99.9, mg | steady while handled, per 100 | wrong, per 100 | pulls, per 100 | slack shown, % |
//! |---|---|---|---|---|---|---|
//! | 112 | 0.58 / 1.40 / 2.05 | 9.3 / 37 / 84 | 2.06 | 0.07 | 3.03 | 100.0 |
//! | 144 | 0.61 / 1.42 / 2.06 | 9.2 / 35 / 82 | 1.45 | 0.07 | 1.59 | 99.9 |
//! | 176 | 0.64 / 1.46 / 2.14 | 9.0 / 35 / 82 | 0.91 | 0.07 | 0.97 | 99.9 |
//! | 184 | 0.65 / 1.47 / 2.14 | 8.9 / 34 / 82 | 0.81 | 0.05 | 0.92 | 99.9 |
//! | 208 | 0.68 / 1.51 / 2.18 | 8.6 / 33 / 80 | 0.47 | 0.02 | 0.77 | 99.7 |
//! | 240 | 0.78 / 1.64 / 2.97 | 8.1 / 31 / 80 | 0.15 | 0.02 | 0.62 | 99.2 |
//!
//! Stricter than 184, units of middling noise wait longer than 0.70 s in the median. What is left of *wrong* hardly depends on it: most
//! are emptied pans of cells that still warm up, whose zero has moved by nearly two divisions or more under the load. The zero is set
//! anew there, and either the number goes to zero, which is no longer the change that was weighed, or it stays, and the pan is empty and
//! says otherwise. The way is shared between that change and the next (see [`display`](crate::weighing::display)); the rest are
//! hands that lay still until they left, a tenth of a second before, and the noise of the noisiest units.
//!
//! Why no setting has both the speed and the error that one would like: over cells of 500 g and 1 kg with the data sheet's noise times 1 to
//! 6 (log-uniform), half of it correlated through the converter's filter, one sample has a standard deviation of 28.7 mg in the root mean
//! square, and a mean of `n` has the variance `28.7² × 1.55 / n`. The difference of two such means, with 6 mg for all that is not noise
//! (the bound of `yarn-scale measure`), has 21 mg at n = 6, which is where sections stand whose cake comes back; 15 mg want n = 14, 0.8 s
//! more after each placement. So does a median error of 8 mg at the sign: give = 240, 0.13 s more in the median and 0.17 s at 95 %.

use crate::converter::SampleRate;
use crate::signal::check::CheckedSample;
use crate::signal::features::{COUNT, Features, Past, Stretch, features, roughness};
use crate::signal::noise::Noise;
use crate::signal::segment::{Change, Segment};
use crate::signal::steadiness;
use crate::signal::tick::Ticker;
use crate::units::{Counts, FineCounts, Instant};

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

impl Strictness {
    /// Where handling with a still hand is mistaken for rest less than once in a hundred times, by simulation.
    #[must_use]
    pub const fn usual(rate: SampleRate) -> Self {
        Self {
            give: match rate {
                SampleRate::Ten => 184,
                SampleRate::Eighty => 232,
            },
            take: -32,
        }
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
    ticker: Ticker,
    noise: Noise,
    segment: Segment,
    past: Past,
    features: Features,
    strictness: Strictness,
    tolerance: f32,
    upwards: i32,
    rate: SampleRate,
    alarmed: u8,
    /// Ticks for which the judge need not be asked if they are calm.
    unasked: u8,
    attentive: bool,
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
            strictness: Strictness::usual(rate),
            tolerance: 0.5 * division.abs(),
            upwards: if division < 0.0 { -1 } else { 1 },
            rate,
            alarmed: 0,
            unasked: 0,
            attentive: false,
            at: None,
            reading: None,
        }
    }

    /// Makes it surer or quicker.
    pub const fn set_strictness(&mut self, strictness: Strictness) {
        self.strictness = strictness;
    }

    /// Takes the features of every tick and asks the judge at every tick, needed or not: for growing its trees.
    pub const fn attend(&mut self) {
        self.attentive = true;
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

    /// Whether the last word contradicts the reading, which stands until the next word says whether it was spoilt.
    #[must_use]
    pub const fn is_contradicted(&self) -> bool {
        self.ticker.holds()
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

    /// Forgets the level, not the noise: the samples that follow have nothing to do with those before.
    pub const fn interrupt(&mut self) {
        self.ticker.interrupt();
        self.segment.clear();
        self.reading = None;
    }

    /// Takes a sample and says what is known now.
    #[inline(never)]
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
        let gate = self.noise.fine_sigma().saturating_mul(GATE) >> 4;
        for tick in self
            .ticker
            .take(sample.counts(), i32::try_from(gate).unwrap_or(i32::MAX))
        {
            self.reading = Some(self.judge(tick, at));
        }
        self.look_early();
        self.reading
    }

    /// At 80 a second a touch shows in the words before it shows in a tick: the sign goes at once, and stays away for two ticks.
    fn look_early(&mut self) {
        let Some(reading) = self.reading.as_mut() else { return };
        let Some(steady) = reading.steady else { return };
        let level = Counts(steady.level.0 >> 4);
        if self.ticker.early(level) as f32 > ALARM * self.noise.sigma() {
            reading.steady = None;
            reading.jumped = true;
            self.alarmed = ALARM_TICKS;
        }
    }

    #[inline(never)]
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
        let was = self.reading.and_then(|reading| reading.steady);
        let alarmed = self.alarmed > 0;
        self.alarmed = self.alarmed.saturating_sub(1);
        let jumped = matches!(change, Change::Jump(_));
        let calm = change == Change::None && tick.0.abs_diff(level.0) <= self.noise.fine_sigma().saturating_mul(CALM);
        let se = self.noise.standard_error(len);
        let is_steady = if was.is_some() && calm && self.unasked > 0 {
            self.unasked = self.unasked.saturating_sub(1);
            true
        } else {
            let may_be = len >= 2 && !(jumped || alarmed) && se < self.largest_error(len);
            self.vote(len, was.is_some(), may_be)
        };
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
            steady: is_steady.then_some(SteadyLevel { level, se, at }),
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

    /// Asks the judge, if the level may be trusted at all. He is dear: half of what a tick at rest would cost. So one who is very sure of a
    /// segment that has lasted is not asked again for some ticks, unless one of them stands apart.
    fn vote(&mut self, len: usize, was_steady: bool, may_be: bool) -> bool {
        self.unasked = 0;
        if !may_be && !self.attentive {
            return false;
        }
        self.features = features(
            &self.segment,
            &self.past,
            self.variance(),
            (self.noise.correlation() * 64.0) as i8,
            (self.tolerance * FineCounts::PER_COUNT as f32) as u32,
            self.upwards,
        );
        let enough = if was_steady {
            self.strictness.take
        } else {
            self.strictness.give
        };
        let patience = len.saturating_sub(PATIENT).min(LONGEST_PATIENCE);
        let easier = i16::try_from(patience).unwrap_or_default().saturating_mul(EASIER);
        let enough = enough.saturating_sub(easier).max(PATIENT_ENOUGH);
        let asked = |odds| may_be && steadiness::reaches(&self.features, self.rate, odds);
        if was_steady && len >= LASTING && !self.attentive && asked(enough.saturating_add(VERY_SURE)) {
            self.unasked = UNASKED;
            return true;
        }
        asked(enough)
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
const SMALL_ERROR: f32 = 0.26;
/// what every further tick without a jump adds to that, for a noisy unit must come to an end some time,
const PATIENT_ERROR: f32 = 0.014;
/// and for how many.
const LONG: usize = 20;
/// Time without a sample after which nothing before counts, ms: the converter may have been reset and settles anew.
const LONGEST_GAP: u32 = 700;
/// Ticks of half a segment from which drift is read.
const LEAST_HALF: usize = 16;
const TICKS_A_MINUTE: f32 = 600.0;
/// Ticks that make a stretch worth remembering.
const SHORTEST_STRETCH: usize = 3;
/// Ticks of a stretch that are looked at.
const LONGEST_STRETCH: usize = 32;
/// Ticks without a jump after which the judge need not be quite so sure.
const PATIENT: usize = 7;
/// 64ths of a natural logarithm of odds by which it is easier with every further tick.
const EASIER: i16 = 12;
/// Ticks over which that goes on.
const LONGEST_PATIENCE: usize = 64;
/// What is enough in the end, 64ths of a natural logarithm of odds. Four seconds without a jump are rest, whatever came before them:
/// of a million ticks in such stretches none had worse odds than this. Else a yarn that a pull has left lying differently would never be
/// trusted, since the trees wait for it to come back to where it was.
const PATIENT_ENOUGH: i16 = -224;
/// Ticks of a segment that has lasted.
const LASTING: usize = 12;
/// 64ths of a natural logarithm of odds above what is enough.
const VERY_SURE: i16 = 64;
/// Ticks for which the judge is not asked then,
const UNASKED: u8 = 7;
/// as long as each is within so many standard deviations of the level.
const CALM: u32 = 2;
