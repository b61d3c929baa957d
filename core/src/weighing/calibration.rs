//! From counts to milligrams, proven before it is used.
//!
//! The empty pan and one load give a straight line, more a least-squares parabola where they know the bow of the cell better than what
//! cheap cells promise (a few hundredths of a percent of full scale). A load need not be known for that: the same mass weighs the same on
//! top of any cup, so that the step it makes there tells the slope there (the additive method).

use serde::{Deserialize, Serialize};

use crate::math::rss;
use crate::units::{FineCounts, Milligrams};
use crate::weighing::conditions::rated;
use crate::weighing::fit::{self, Fit};

/// A known load and the level it gave.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Point {
    /// The known load; zero for the empty pan.
    pub load: Milligrams,
    /// It stands on, or is, a cup of unknown weight, the same for all points of a calibration.
    pub cup: bool,
    /// Its standard uncertainty, mg.
    pub u: f32,
    /// The steady level it gave.
    pub level: FineCounts,
}

/// Why a calibration was refused. The one in use stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum CalibrationFault {
    /// Fewer than two points, or all at one load: weigh another known mass.
    TooFewPoints,
    /// No point is the empty pan: weigh it too.
    NoZero,
    /// Loads reach less than a twentieth of the capacity: take a heavier mass.
    TooLight,
    /// The level hardly changes with the load, or not by any amount a load cell can give: check the cell's wires.
    NoResponse,
    /// The points do not lie on a line that a load cell can give: one mass is wrong, or something touched the pan.
    NotStraight,
    /// NaN or infinite, or no calibration at all.
    Nonsense,
}

/// A proven relation between counts and milligrams.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Stored", into = "Stored")]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Calibration {
    zero: FineCounts,
    mg_per_count: f32,
    bend: f32,
    u_span: f32,
    bow: f32,
}

/// A calibration with what proved it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// The calibration.
    pub calibration: Calibration,
    /// Residual standard deviation of the points, mg; 0 with no more points than needed.
    pub residual_sd: f32,
    /// What the readings leave open at 300 g, a full skein in its bowl: standard uncertainty in mg, without that of the masses.
    pub u_reading: f32,
    /// Standard uncertainty of 300 g, mg.
    pub u: f32,
    /// Largest distance of a point from the curve, mg.
    pub largest_residual: f32,
    /// Whether a bend was fitted.
    pub bent: bool,
}

impl Calibration {
    /// A straight calibration taken from elsewhere: level of the empty pan and counts for a gram, negative where the cell is
    /// mounted the other way round.
    ///
    /// # Errors
    /// [`CalibrationFault::Nonsense`] unless the size of `counts_per_gram` is between 10 and 100 000.
    pub fn straight(zero: FineCounts, counts_per_gram: f32) -> Result<Self, CalibrationFault> {
        if !(10.0..=100_000.0).contains(&counts_per_gram.abs()) {
            return Err(CalibrationFault::Nonsense);
        }
        Ok(Self {
            zero,
            mg_per_count: 1_000.0 / counts_per_gram,
            bend: 0.0,
            u_span: UNKNOWN_SPAN,
            bow: 0.0,
        })
    }

    /// What the data sheets promise of a cell of 1 mV/V before it has been calibrated: at full load a thousandth of the
    /// supply, against the converter's half of the supply at gain 128. Good for faults and for finding zero, not for a number.
    #[must_use]
    pub fn nominal(cell_capacity: Milligrams) -> Self {
        const COUNTS_AT_FULL_LOAD: f32 = 8_388_608.0 * 128.0 / 500.0;
        Self {
            zero: FineCounts(0),
            mg_per_count: cell_capacity.0.max(1) as f32 / COUNTS_AT_FULL_LOAD,
            bend: 0.0,
            u_span: UNKNOWN_SPAN,
            bow: 0.0,
        }
    }

    /// Fits `points` and proves the fit against what a cell of this `capacity` can do.
    ///
    /// # Errors
    /// Why the points prove nothing.
    pub fn prove(points: &[Point], capacity: Milligrams) -> Result<Proof, CalibrationFault> {
        let zero = points
            .iter()
            .find(|point| point.load == Milligrams::ZERO && !point.cup)
            .ok_or(CalibrationFault::NoZero)?
            .level;
        let gather = |cup: bool| {
            let chosen = points
                .iter()
                .take(MOST_POINTS)
                .filter(|point| point.cup == cup && (cup || point.load.0 > 0));
            let pairs = chosen.map(|point| {
                let apart = point.level.0.saturating_sub(zero.0) as f32 / FineCounts::PER_COUNT as f32;
                (apart, point.load.0 as f32)
            });
            pairs.collect::<heapless::Vec<_, MOST_POINTS>>()
        };
        let (known, on_cup) = (gather(false), gather(true));
        let of_masses = |point: &&Point| !point.cup && point.load.0 > 0;
        let heaviest = points.iter().filter(of_masses).map(|point| point.load.0).max();
        let heaviest = heaviest.ok_or(CalibrationFault::TooFewPoints)?;
        if i64::from(heaviest).saturating_mul(20) < i64::from(capacity.0) {
            return Err(CalibrationFault::TooLight);
        }
        let line = fit::polynomial(&known, &on_cup, 1).ok_or(CalibrationFault::NoResponse)?;
        if !(1e-2..=1e2).contains(&line.b1.abs()) {
            return Err(CalibrationFault::NoResponse);
        }
        let full = capacity.0 as f32;
        let rated = rated(line.b1, capacity);
        let at_half = |of: f32, fit: &Fit| 0.25 * of * square(rated / fit.b1);
        let believed = |fit: &Fit| at_half(fit.bend_sd * reading_sd(fit), fit) < CHEAP_BOW * rated;
        let bent = fit::polynomial(&known, &on_cup, 2).filter(believed);
        let chosen = bent.unwrap_or(line);
        let misses = |pairs: &[(f32, f32)], offset: f32| {
            let miss = pairs.iter().map(|&(x, y)| (offset + chosen.rise(x) - y).abs());
            miss.fold(0.0, f32::max)
        };
        let largest_residual = misses(&known, 0.0).max(misses(&on_cup, chosen.b0));
        let bow = 0.25 * chosen.b2 * square(full / line.b1);
        if largest_residual > WORST_RESIDUAL * full || bow.abs() > WORST_BOW * full {
            return Err(CalibrationFault::NotStraight);
        }
        let weakest = points
            .iter()
            .filter(of_masses)
            .map(|point| point.u / point.load.0 as f32)
            .fold(f32::MAX, f32::min);
        let sd = reading_sd(&chosen);
        let calibration = Self {
            zero,
            mg_per_count: chosen.b1,
            bend: chosen.b2,
            u_span: rss(weakest, chosen.slope_sd * sd / chosen.b1.abs()),
            bow: at_half(chosen.bend_sd * sd, &chosen),
        };
        let u_reading = chosen.rise_sd(SKEIN / chosen.b1) * sd;
        let unknown_bow = if bent.is_some() {
            0.0
        } else {
            4.0 * CHEAP_BOW * SKEIN * (1.0 - SKEIN / rated)
        };
        Ok(Proof {
            calibration,
            residual_sd: chosen.residual_sd,
            u_reading,
            u: rss(rss(weakest * SKEIN, u_reading), unknown_bow),
            largest_residual,
            bent: bent.is_some(),
        })
    }

    /// Level of the empty pan when the calibration was made.
    #[must_use]
    pub const fn zero(&self) -> FineCounts {
        self.zero
    }

    /// Milligrams for a count, negative where the cell is mounted the other way round.
    #[must_use]
    pub const fn mg_per_count(&self) -> f32 {
        self.mg_per_count
    }

    /// Relative standard uncertainty of the span: known mass and fit.
    #[must_use]
    pub const fn u_span(&self) -> f32 {
        self.u_span
    }

    /// Standard uncertainty of the bow at half the rated load where it is known, mg.
    #[must_use]
    pub const fn bow(&self) -> f32 {
        self.bow
    }

    /// Whether the bow of the cell is part of it.
    #[must_use]
    pub fn is_bent(&self) -> bool {
        self.bend.abs() > 0.0
    }

    /// Standard uncertainty of the bow at half load, as a share of the `rated` load (mg): what the points leave open, or that of a cheap cell (0.04 % either
    /// way, rectangular) where the calibration is straight.
    #[must_use]
    pub fn u_bow(&self, rated: f32) -> f32 {
        if self.is_bent() {
            (self.bow / rated.max(1.0)).max(LEAST_BOW)
        } else {
            CHEAP_BOW
        }
    }

    /// The mass that moves the level from `zero` to `level`, mg, not yet rounded.
    #[must_use]
    pub fn mass(&self, level: FineCounts, zero: FineCounts) -> f32 {
        let counts = level.0.saturating_sub(zero.0) as f32 / FineCounts::PER_COUNT as f32;
        let bend = if self.is_bent() { counts * self.bend } else { 0.0 };
        counts * (self.mg_per_count + bend)
    }
}

/// Standard deviation of a reading as far as the points tell, mg; few tell little.
fn reading_sd(fit: &Fit) -> f32 {
    fit.residual_sd.max(READING)
}

fn square(x: f32) -> f32 {
    x * x
}

/// What the journal keeps.
#[derive(Serialize, Deserialize)]
struct Stored {
    zero: FineCounts,
    mg_per_count: f32,
    bend: f32,
    u_span: f32,
    bow: f32,
}

impl From<Calibration> for Stored {
    fn from(from: Calibration) -> Self {
        Self {
            zero: from.zero,
            mg_per_count: from.mg_per_count,
            bend: from.bend,
            u_span: from.u_span,
            bow: from.bow,
        }
    }
}

impl TryFrom<Stored> for Calibration {
    type Error = CalibrationFault;

    fn try_from(from: Stored) -> Result<Self, Self::Error> {
        let sound = (1e-2..=1e2).contains(&from.mg_per_count.abs())
            && from.bend.is_finite()
            && from.u_span >= 0.0
            && from.bow >= 0.0
            && from.u_span.is_finite()
            && from.bow.is_finite();
        if !sound {
            return Err(CalibrationFault::Nonsense);
        }
        Ok(Self {
            zero: from.zero,
            mg_per_count: from.mg_per_count,
            bend: from.bend,
            u_span: from.u_span,
            bow: from.bow,
        })
    }
}

/// Relative standard uncertainty of a span whose making is not known: 100 g of class M2 and a cell's temperature coefficient.
const UNKNOWN_SPAN: f32 = 2e-4;
/// 0.04 % over the square root of three.
const CHEAP_BOW: f32 = 2.3e-4;
/// No three masses prove a bow better than this.
const LEAST_BOW: f32 = 4e-5;
/// Points that a calibration takes into account.
pub(crate) const MOST_POINTS: usize = 12;
/// What a reading is worth, mg: noise, and the branch of the hysteresis that it came by (`yarn-scale-lab calibrations`).
const READING: f32 = 8.0;
/// 300 g.
const SKEIN: f32 = 3e5;
/// Largest residual, of capacity: an ordinary cell's combined error is 0.05 %; four times that is no load cell.
const WORST_RESIDUAL: f32 = 2e-3;
/// Largest bow, of capacity.
const WORST_BOW: f32 = 4e-3;
