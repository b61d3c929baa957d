//! The level of the load and whether it may be trusted.

use crate::converter::SampleRate;
use crate::signal::check::CheckedSample;
use crate::signal::features::{COUNT, Features, Past, Stretch, features, roughness};
use crate::signal::noise::Noise;
use crate::signal::segment::{Change, Segment};
use crate::signal::steadiness;
use crate::signal::strictness::Strictness;
use crate::signal::tick::Ticker;
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
        let gate = self.noise.fine_sigma().wrapping_mul(GATE) >> 4;
        for tick in self.ticker.take(sample.counts(), gate.cast_signed()) {
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
        let early = self.ticker.early(level);
        if early > 0 && early as f32 > ALARM * self.noise.sigma() {
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
        let calm = change == Change::None && tick.0.abs_diff(level.0) <= self.noise.fine_sigma().wrapping_mul(CALM);
        let (is_steady, se) = match was {
            Some(was) if calm && self.unasked > 0 => {
                self.unasked = self.unasked.saturating_sub(1);
                // Of a long segment that of the last question is a little more than it is by now.
                let se = if len < LONG_SEGMENT {
                    self.noise.standard_error(len)
                } else {
                    was.se
                };
                (true, se)
            }
            _ => {
                let se = self.noise.standard_error(len);
                let may_be = len >= 2 && !(jumped || alarmed) && se < self.largest_error(len);
                (self.vote(len, was.is_some(), may_be), se)
            }
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
            steady: is_steady.then_some(SteadyLevel {
                level,
                se,
                at,
                ticks: len as u16,
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
        let enough = self.strictness.enough(was_steady, len);
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
/// Ticks of a segment that has lasted.
const LASTING: usize = 12;
/// Ticks of one whose standard error changes by a fifth at most while the judge is not asked.
const LONG_SEGMENT: usize = 32;
/// 64ths of a natural logarithm of odds above what is enough.
const VERY_SURE: i16 = 64;
/// Ticks for which the judge is not asked then,
const UNASKED: u8 = 15;
/// as long as each is within so many standard deviations of the level.
const CALM: u32 = 2;
