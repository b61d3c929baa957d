//! One simulated scale: what it was built with. Drawn from a seed, then constant.
//!
//! All ranges are engineering assumptions for a cheap scale, fitted to no recording; where a datasheet gives a figure it is named.

use yarn_scale_core::converter::SampleRate;

use super::hand::Manner;
use super::noise::Extra;
use super::random::Stream;

/// Volts of one count: half the supply over the gain over 2^23, at 4.3 V and gain 128 (HX711 data sheet).
pub const VOLTS_PER_COUNT: f64 = 0.5 * 4.3 / 128.0 / 8_388_608.0;

/// A built scale.
#[derive(Clone, Debug)]
pub struct Unit {
    /// What it was drawn from, and what its noise is drawn from.
    pub seed: u64,
    /// Rated load of the cell, g: 500 or 1000.
    pub cell_capacity_g: f64,
    /// Counts a gram at small loads, before any error; negative if the cell's wires are swapped.
    pub counts_per_g: f64,
    /// Counts of the unloaded cell when new.
    pub zero_counts: f64,
    /// Noise over the data sheet's, 1 to 6.
    pub noise_factor: f64,
    /// White noise passes through the converter's filter (neighbours correlated), or is white from sample to sample.
    pub noise_through_filter: bool,
    /// 1/f noise, counts per square root of a decade.
    pub flicker_counts: f64,
    /// Error of the converter's clock, -0.05 to 0.12.
    pub rate_error: f64,
    /// Creep as a share of the load after 30 min, either sign.
    pub creep: f64,
    /// Time constants of fast and slow creep, s.
    pub creep_s: [f64; 2],
    /// Widest gap between loading and unloading, share of rated load.
    pub hysteresis: f64,
    /// Bow at half load, share of rated load, either sign.
    pub bow: f64,
    /// Zero shift in 10 K, share of rated load, either sign.
    pub zero_per_10k: f64,
    /// Span change in 10 K, share of reading, either sign.
    pub span_per_10k: f64,
    /// Zero shift while warming up, share of rated load, either sign.
    pub warm_up: f64,
    /// Time constant of warming up, s.
    pub warm_up_s: f64,
    /// Resonance of pan on cell, Hz.
    pub resonance_hz: f64,
    /// Damping ratio of that resonance.
    pub damping: f64,
    /// Mass of pan and platform, g: what shakes when the table does.
    pub platform_g: f64,
    /// Load with which its owner calibrated, g.
    pub calibration_g: f64,
    /// How the hands at it put a thing down.
    pub manner: Manner,
    /// What its noise has besides.
    pub extra: Extra,
}

/// How a unit's noise compares, by its one-sample standard deviation at 10 samples a second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoiseClass {
    /// Below 15 mg.
    Quiet,
    /// 15 to 35 mg.
    Medium,
    /// Above 35 mg.
    Noisy,
}

impl Unit {
    /// Draws a unit from all ranges.
    #[must_use]
    pub fn draw(seed: u64) -> Self {
        let mut r = Stream::new(seed, 1);
        let cell_capacity_g = if r.chance(0.5) { 500.0 } else { 1_000.0 };
        let noise_factor = r.log_uniform(1.0, 6.0);
        let flicker_volts = 25e-9 * r.uniform(0.2, 1.2) * noise_factor.sqrt();
        Self {
            seed,
            cell_capacity_g,
            counts_per_g: nominal_counts_per_g(cell_capacity_g),
            zero_counts: (r.uniform(-0.05, 0.05) * cell_capacity_g * nominal_counts_per_g(cell_capacity_g)).round(),
            noise_factor,
            noise_through_filter: r.chance(0.5),
            flicker_counts: flicker_volts / VOLTS_PER_COUNT,
            rate_error: r.uniform(-0.05, 0.12),
            creep: r.sign() * r.uniform(0.000_2, 0.000_5),
            creep_s: [r.uniform(30.0, 90.0), r.uniform(400.0, 900.0)],
            hysteresis: r.uniform(0.000_2, 0.000_5),
            bow: r.uniform(-0.000_4, 0.000_4),
            zero_per_10k: r.sign() * r.uniform(0.000_2, 0.000_5),
            span_per_10k: r.uniform(-0.000_3, 0.000_3),
            warm_up: r.sign() * r.uniform(0.000_1, 0.000_5),
            warm_up_s: r.uniform(60.0, 600.0),
            resonance_hz: r.uniform(8.0, 20.0),
            damping: r.uniform(0.015, 0.08),
            platform_g: 80.0,
            calibration_g: cell_capacity_g,
            manner: Manner::USUAL,
            extra: Extra::default(),
        }
    }

    /// A good unit with errors in the middle of every range: what a desk starts with.
    #[must_use]
    pub fn typical(seed: u64) -> Self {
        let capacity = 500.0;
        Self {
            seed,
            cell_capacity_g: capacity,
            counts_per_g: nominal_counts_per_g(capacity),
            zero_counts: 84_210.0,
            noise_factor: 1.5,
            noise_through_filter: true,
            flicker_counts: 25e-9 * 0.7 * 1.5_f64.sqrt() / VOLTS_PER_COUNT,
            rate_error: 0.03,
            creep: 0.000_3,
            creep_s: [60.0, 600.0],
            hysteresis: 0.000_3,
            bow: 0.000_2,
            zero_per_10k: 0.000_3,
            span_per_10k: 0.000_1,
            warm_up: 0.000_2,
            warm_up_s: 200.0,
            resonance_hz: 12.0,
            damping: 0.04,
            platform_g: 80.0,
            calibration_g: capacity,
            manner: Manner::USUAL,
            extra: Extra::default(),
        }
    }

    /// A unit without any error or noise, for tests that look at one effect alone.
    #[must_use]
    pub fn perfect() -> Self {
        Self {
            noise_factor: 0.0,
            flicker_counts: 0.0,
            rate_error: 0.0,
            creep: 0.0,
            hysteresis: 0.0,
            bow: 0.0,
            zero_per_10k: 0.0,
            span_per_10k: 0.0,
            warm_up: 0.0,
            ..Self::typical(0)
        }
    }

    /// The same unit with the cell's signal wires swapped.
    #[must_use]
    pub fn reversed(self) -> Self {
        Self {
            counts_per_g: -self.counts_per_g,
            ..self
        }
    }

    /// White noise of one sample in counts: 50 nV at 10 samples a second, 90 nV at 80 (HX711 data sheet), times the factor.
    #[must_use]
    pub fn white_counts(&self, rate: SampleRate) -> f64 {
        let volts = match rate {
            SampleRate::Ten => 50e-9,
            SampleRate::Eighty => 90e-9,
        };
        volts * self.noise_factor / VOLTS_PER_COUNT
    }

    /// The same in grams.
    #[must_use]
    pub fn white_g(&self, rate: SampleRate) -> f64 {
        self.white_counts(rate) / self.counts_per_g.abs()
    }

    /// Class by noise at 10 samples a second.
    #[must_use]
    pub fn class(&self) -> NoiseClass {
        let milligrams = 1_000.0 * self.white_g(SampleRate::Ten);
        if milligrams < 15.0 {
            NoiseClass::Quiet
        } else if milligrams <= 35.0 {
            NoiseClass::Medium
        } else {
            NoiseClass::Noisy
        }
    }

    /// Seconds between its conversions.
    #[must_use]
    pub fn period_s(&self, rate: SampleRate) -> f64 {
        let nominal = match rate {
            SampleRate::Ten => 10.0,
            SampleRate::Eighty => 80.0,
        };
        1.0 / (nominal * (1.0 + self.rate_error))
    }
}

/// Counts a gram of a 1 mV/V cell at gain 128: 1e-3 x 128 x 2^24 / capacity, whatever the supply (both are ratiometric to it).
fn nominal_counts_per_g(capacity_g: f64) -> f64 {
    1e-3 * 128.0 * 16_777_216.0 / capacity_g
}
