//! Noise of converter and cell, in counts: white, white through the converter's filter, and 1/f.

use yarn_scale_core::converter::SampleRate;

use super::random::Stream;
use super::unit::Unit;

/// The noise of one unit at one rate.
#[derive(Clone, Debug)]
pub struct Noise {
    white: f64,
    through_filter: bool,
    recent: [f64; 3],
    flicker: Vec<Wander>,
    extra: Extra,
    period_s: f64,
    offset: f64,
    phase: f64,
    random: Stream,
}

/// What some converters have besides: steps of the offset, and mains that beats with the conversions.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extra {
    /// Height of a step, counts: the offset jumps between two levels so far apart.
    pub popcorn_counts: f64,
    /// Seconds between two steps in the mean; none if 0.
    pub popcorn_s: f64,
    /// Amplitude of the beat, counts.
    pub hum_counts: f64,
    /// Its frequency, Hz.
    pub hum_hz: f64,
}

/// One of the exponentially correlated processes whose sum has a 1/f spectrum.
#[derive(Clone, Debug)]
struct Wander {
    level: f64,
    keep: f64,
    kick: f64,
}

impl Noise {
    /// White noise of `white` counts (one sample, standard deviation), 1/f noise of `flicker` counts per square root of a decade.
    #[must_use]
    pub fn new(seed: u64, white: f64, through_filter: bool, flicker: f64, period_s: f64) -> Self {
        let mut random = Stream::new(seed, 2);
        let sd = flicker / f64::from(PER_DECADE).sqrt();
        let flicker = (0..DECADES * PER_DECADE)
            .map(|index| {
                let tau = SHORTEST_S * 10_f64.powf((f64::from(index) + 0.5) / f64::from(PER_DECADE));
                let keep = (-period_s / tau).exp();
                Wander {
                    level: sd * random.normal(),
                    keep,
                    kick: sd * (1.0 - keep * keep).sqrt(),
                }
            })
            .collect();
        let recent = core::array::from_fn(|_| random.normal());
        Self {
            white,
            through_filter,
            recent,
            flicker,
            extra: Extra::default(),
            period_s,
            offset: 0.0,
            phase: 0.0,
            random,
        }
    }

    /// The noise of a unit.
    #[must_use]
    pub fn of(unit: &Unit, rate: SampleRate) -> Self {
        let (white, through_filter) = (unit.white_counts(rate), unit.noise_through_filter);
        Self::new(
            unit.seed,
            white,
            through_filter,
            unit.flicker_counts,
            unit.period_s(rate),
        )
        .with(unit.extra)
    }

    /// Covariance of two conversions `lag` apart, square counts; of what it has besides nothing is in it.
    #[must_use]
    pub fn covariance(&self, lag: usize) -> f64 {
        let white = if self.through_filter {
            let later = THROUGH_FILTER.get(lag..).unwrap_or_default();
            later.iter().zip(&THROUGH_FILTER).map(|(one, other)| one * other).sum()
        } else {
            f64::from(u8::from(lag == 0))
        };
        let wander = |of: &Wander| of.kick.powi(2) / (1.0 - of.keep.powi(2)) * of.keep.powf(lag as f64);
        self.white.powi(2) * white + self.flicker.iter().map(wander).sum::<f64>()
    }

    /// The same with what else it has.
    #[must_use]
    pub fn with(mut self, extra: Extra) -> Self {
        self.extra = extra;
        self
    }

    /// The noise of the next conversion, counts.
    pub fn draw(&mut self) -> f64 {
        let fresh = self.random.normal();
        let white = if self.through_filter {
            let [one, two, three] = self.recent;
            self.recent = [fresh, one, two];
            THROUGH_FILTER[0] * fresh + THROUGH_FILTER[1] * one + THROUGH_FILTER[2] * two + THROUGH_FILTER[3] * three
        } else {
            fresh
        };
        let mut sum = self.white * white;
        for wander in &mut self.flicker {
            wander.level = wander.level * wander.keep + wander.kick * self.random.normal();
            sum += wander.level;
        }
        sum + self.besides()
    }

    fn besides(&mut self) -> f64 {
        let Extra {
            popcorn_counts,
            popcorn_s,
            hum_counts,
            hum_hz,
        } = self.extra;
        if popcorn_s > 0.0 && self.random.chance(self.period_s / popcorn_s) {
            self.offset = popcorn_counts - self.offset;
        }
        self.phase += core::f64::consts::TAU * hum_hz * self.period_s;
        self.offset + hum_counts * self.phase.sin()
    }
}

/// Moving-average weights with unit variance and the autocorrelation of white noise behind a sinc of fourth order,
/// 2416 : 1191 : 120 : 1 (the B-spline of degree seven at the integers). Its polynomial has the spline's well-known poles
/// -0.535 280, -0.122 555, -0.009 149 as roots.
const THROUGH_FILTER: [f64; 4] = [0.830_455_654, 0.553_900_419, 0.059_476_752, 0.000_498_410];

/// 1/f noise is made from this correlation time on, s; what is faster is part of the white figure.
const SHORTEST_S: f64 = 1.0;
const DECADES: u32 = 5;
const PER_DECADE: u32 = 2;
