//! What all weights on one scale have in common, and what that does to the difference of two of them.

use crate::math::{rss, sqrt};
use crate::measured::Measured;
use crate::units::{Instant, Milligrams};
use crate::weighing::budget::Budget;
use crate::weighing::calibration::Calibration;

/// What the uncertainty budget needs to know of a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// Milligrams for a count, positive.
    pub mg_per_count: f32,
    /// Rated load of the cell, mg.
    pub rated: f32,
    /// Relative uncertainty of the span.
    pub u_span: f32,
    /// Uncertainty of the bow, of rated load, at half load.
    pub u_bow: f32,
    /// Since when the cell has been warming up.
    pub on_since: Instant,
    /// How restless this unit is beside the assumed one.
    pub restless: f32,
    /// How much its amplifier wanders beside the assumed one.
    pub wandering: f32,
    /// How its offset jumps beside a converter of which nothing is known.
    pub steps: f32,
}

impl Conditions {
    /// Of a scale with this calibration and capacity.
    #[must_use]
    pub fn of(calibration: &Calibration, capacity: Milligrams) -> Self {
        let mg_per_count = calibration.mg_per_count().abs();
        let rated = rated(mg_per_count, capacity);
        Self {
            mg_per_count,
            rated,
            u_span: calibration.u_span(),
            u_bow: calibration.u_bow(rated),
            on_since: Instant(0),
            restless: 1.0,
            wandering: 1.0,
            steps: 0.0,
        }
    }

    /// The same for a level near zero, where neither span nor bow has a say, of the assumed unit.
    #[must_use]
    pub(super) const fn of_any_unit(self) -> Self {
        Self {
            u_span: 0.0,
            u_bow: 0.0,
            restless: 1.0,
            ..self
        }
    }

    /// A reading with what is its own of its uncertainty: without span, bow and hysteresis, which all readings share. In a
    /// difference they count only for the part between the two ([`Self::difference_u`]); the root sum of squares of whole readings, such
    /// as two marks of different days, would overstate it.
    #[must_use]
    pub fn own(&self, reading: Measured) -> Measured {
        let mass = reading.value.0 as f32;
        let part = (mass.abs() / self.rated).min(1.0);
        let bow = 4.0 * self.u_bow * mass * (1.0 - part);
        let common = rss(rss(self.u_span * mass, bow), Budget::HYSTERESIS * mass);
        Measured {
            u: sqrt(reading.u * reading.u - common * common),
            ..reading
        }
    }

    /// `before − after`, with the uncertainty of what the two do not share.
    #[must_use]
    pub fn used(&self, before: Measured, after: Measured) -> Measured {
        let difference = self.own(before).minus(self.own(after));
        Measured {
            u: rss(difference.u, self.difference_u(before.value, after.value)),
            ..difference
        }
    }

    /// What span, bow and hysteresis leave in the difference of two readings, standard uncertainty in mg.
    #[must_use]
    pub fn difference_u(&self, before: Milligrams, after: Milligrams) -> f32 {
        let (a, b) = (before.0 as f32, after.0 as f32);
        let middle = (1.0 - (a + b) / self.rated).abs();
        rss(rss(self.u_span, 4.0 * self.u_bow * middle), Budget::HYSTERESIS) * (a - b).abs()
    }
}

/// Rated load of a cell with so many mg a count, mg; never less than the scale's `capacity`.
pub(super) fn rated(mg_per_count: f32, capacity: Milligrams) -> f32 {
    (RATED_COUNTS * mg_per_count.abs()).max(capacity.0 as f32)
}

/// Counts that a cell of 1 mV/V gives at its rated load: 10^-3 x 128 x 2^24, since bridge and converter share their supply.
const RATED_COUNTS: f32 = 2_147_483.6;
