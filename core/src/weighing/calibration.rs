//! From counts to milligrams, proven before it is used.
//!
//! Two points give a straight line. Three or more give a least-squares line with residuals, and a slight parabola where that
//! leaves less residual variance (the bow of a cell is a few hundredths of a percent of full scale).

use serde::{Deserialize, Serialize};

use crate::math::rss;
use crate::units::{FineCounts, Milligrams};
use crate::weighing::fit::{self, Fit};

/// A known load and the level it gave.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Point {
    /// The known load; zero for the empty pan.
    pub load: Milligrams,
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
    /// A number that is none, or no calibration at all.
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
    residual: f32,
}

/// A calibration with what proved it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// The calibration.
    pub calibration: Calibration,
    /// Residual standard deviation of the points, mg; 0 with two.
    pub residual_sd: f32,
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
            residual: 0.0,
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
            residual: 0.0,
        }
    }

    /// Fits `points` and proves the fit against what a cell of this `capacity` can do.
    ///
    /// # Errors
    /// Why the points prove nothing.
    pub fn prove(points: &[Point], capacity: Milligrams) -> Result<Proof, CalibrationFault> {
        let zero = points
            .iter()
            .find(|point| point.load == Milligrams::ZERO)
            .ok_or(CalibrationFault::NoZero)?
            .level;
        let mut pairs = heapless::Vec::<(f32, f32), MOST_POINTS>::new();
        for point in points.iter().take(MOST_POINTS) {
            let apart = point.level.0.saturating_sub(zero.0) as f32 / FineCounts::PER_COUNT as f32;
            // Never full: no more are taken than it holds.
            let _ = pairs.push((apart, point.load.0 as f32));
        }
        let heaviest = points.iter().map(|point| point.load.0).max().unwrap_or_default();
        if points.len() < 2 || heaviest <= 0 {
            return Err(CalibrationFault::TooFewPoints);
        }
        if i64::from(heaviest).saturating_mul(20) < i64::from(capacity.0) {
            return Err(CalibrationFault::TooLight);
        }
        let line = fit::line(&pairs).ok_or(CalibrationFault::NoResponse)?;
        if !(1e-2..=1e2).contains(&line.b1.abs()) {
            return Err(CalibrationFault::NoResponse);
        }
        let bent = fit::parabola(&pairs).filter(|bent| is_better(bent, &line, pairs.len()));
        let chosen = bent.unwrap_or(line);
        let largest_residual = pairs.iter().map(|&(x, y)| (chosen.at(x) - y).abs()).fold(0.0, f32::max);
        let full = capacity.0 as f32;
        let reach = full / line.b1;
        let bow = 0.25 * chosen.b2 * reach * reach;
        if largest_residual > WORST_RESIDUAL * full || bow.abs() > WORST_BOW * full {
            return Err(CalibrationFault::NotStraight);
        }
        let weakest = points
            .iter()
            .filter(|point| point.load.0 > 0)
            .map(|point| point.u / point.load.0 as f32)
            .fold(f32::MAX, f32::min);
        // The curve gives the mass of a change from the empty pan; where it meets zero is the zero's business.
        let calibration = Self {
            zero: FineCounts(
                zero.0
                    .saturating_sub((chosen.b0 / chosen.b1 * FineCounts::PER_COUNT as f32) as i32),
            ),
            mg_per_count: chosen.b1,
            bend: chosen.b2,
            u_span: rss(weakest, chosen.slope_sd / chosen.b1.abs()),
            residual: chosen.residual_sd,
        };
        Ok(Proof {
            calibration,
            residual_sd: chosen.residual_sd,
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

    /// Residual standard deviation of the calibration points, mg.
    #[must_use]
    pub const fn residual(&self) -> f32 {
        self.residual
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
            (self.residual / rated.max(1.0)).max(LEAST_BOW)
        } else {
            CHEAP_BOW
        }
    }

    /// The mass that moves the level from `zero` to `level`, mg, not yet rounded.
    #[must_use]
    pub fn mass(&self, level: FineCounts, zero: FineCounts) -> f32 {
        let counts = level.0.saturating_sub(zero.0) as f32 / FineCounts::PER_COUNT as f32;
        counts * (self.mg_per_count + counts * self.bend)
    }
}

/// A bend is believed when it leaves less residual variance for each degree of freedom than the line; what no degree of freedom
/// is left to judge, three loads, is taken as it is.
fn is_better(bent: &Fit, line: &Fit, points: usize) -> bool {
    points > 3 && bent.residual_sd < line.residual_sd || points == 3 && line.residual_sd > 0.0
}

/// What the journal keeps.
#[derive(Serialize, Deserialize)]
struct Stored {
    zero: FineCounts,
    mg_per_count: f32,
    bend: f32,
    u_span: f32,
    residual: f32,
}

impl From<Calibration> for Stored {
    fn from(from: Calibration) -> Self {
        Self {
            zero: from.zero,
            mg_per_count: from.mg_per_count,
            bend: from.bend,
            u_span: from.u_span,
            residual: from.residual,
        }
    }
}

impl TryFrom<Stored> for Calibration {
    type Error = &'static str;

    fn try_from(from: Stored) -> Result<Self, Self::Error> {
        let sound = (1e-2..=1e2).contains(&from.mg_per_count.abs())
            && from.bend.is_finite()
            && from.u_span >= 0.0
            && from.residual >= 0.0
            && from.u_span.is_finite()
            && from.residual.is_finite();
        if !sound {
            return Err("not a calibration");
        }
        Ok(Self {
            zero: from.zero,
            mg_per_count: from.mg_per_count,
            bend: from.bend,
            u_span: from.u_span,
            residual: from.residual,
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
pub const MOST_POINTS: usize = 8;
/// Largest residual, of capacity: an ordinary cell's combined error is 0.05 %; four times that is no load cell.
const WORST_RESIDUAL: f32 = 2e-3;
/// Largest bow, of capacity.
const WORST_BOW: f32 = 4e-3;
