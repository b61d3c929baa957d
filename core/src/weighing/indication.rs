//! What the display shows: whole divisions, digits made from integers.
//!
//! The division is 0.1 g or 0.01 oz. Rounding is to the nearest, halves away from zero, so that the changeover lies half a division
//! above each step (OIML R 76-1, A.4.4.3). At rest the shown step stays until the value is 0.7 of a division from it: a value
//! that lies on a changeover point does not flicker, and 1.4 divisions more always show (3.8.2.2).

use core::fmt;

use serde::{Deserialize, Serialize};

use crate::units::Milligrams;

/// Unit of the display.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Unit {
    /// Grams, in steps of 0.1 g.
    #[default]
    Gram,
    /// Avoirdupois ounces of exactly 28.349 523 125 g, in steps of 0.01 oz.
    Ounce,
}

impl Unit {
    /// The division, micrograms.
    #[must_use]
    pub const fn division(self) -> i64 {
        match self {
            Self::Gram => 100_000,
            Self::Ounce => 283_495,
        }
    }
}

/// A number on the display: a whole number of divisions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Indication {
    steps: i32,
    unit: Unit,
}

impl Indication {
    /// The nearest step to `value`.
    #[must_use]
    pub fn rounded(value: Milligrams, unit: Unit) -> Self {
        let micrograms = i64::from(value.0).saturating_mul(1_000);
        let division = unit.division();
        let half = division.checked_div(2).unwrap_or_default();
        let away = if micrograms < 0 { half.saturating_neg() } else { half };
        let steps = micrograms.saturating_add(away).checked_div(division);
        Self {
            steps: i32::try_from(steps.unwrap_or_default()).unwrap_or_default(),
            unit,
        }
    }

    /// The smallest step that is not less than the magnitude of `value`: for an uncertainty, of which a screen must not show too little.
    #[must_use]
    pub fn rounded_up(value: Milligrams, unit: Unit) -> Self {
        let micrograms = i64::from(value.abs().0).saturating_mul(1_000);
        let division = unit.division();
        let steps = micrograms
            .saturating_add(division.saturating_sub(1))
            .checked_div(division);
        Self {
            steps: i32::try_from(steps.unwrap_or_default()).unwrap_or_default(),
            unit,
        }
    }

    /// This step still, or the nearest one if `value` has gone too far from it.
    #[must_use]
    pub fn follow(self, value: Milligrams) -> Self {
        let division = self.unit.division();
        let shown = i64::from(self.steps).saturating_mul(division);
        let apart = i64::from(value.0).saturating_mul(1_000).saturating_sub(shown);
        let stays = apart.saturating_abs().saturating_mul(10) < division.saturating_mul(STAYS_TENTHS);
        if stays { self } else { Self::rounded(value, self.unit) }
    }

    /// How many divisions.
    #[must_use]
    pub const fn steps(self) -> i32 {
        self.steps
    }

    /// The mass that it says.
    #[must_use]
    pub fn mass(self) -> Milligrams {
        let micrograms = i64::from(self.steps).saturating_mul(self.unit.division());
        Milligrams(i32::try_from(micrograms / 1_000).unwrap_or(i32::MAX))
    }

    /// The unit.
    #[must_use]
    pub const fn unit(self) -> Unit {
        self.unit
    }
}

impl fmt::Display for Indication {
    /// Digits only, the unit is the screen's: `-0.3`, `12.0`, `1.05`. There is no minus zero.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.steps < 0 { "-" } else { "" };
        let steps = self.steps.unsigned_abs();
        let (per_unit, width) = match self.unit {
            Unit::Gram => (10, 1),
            Unit::Ounce => (100, 2),
        };
        let whole = steps.checked_div(per_unit).unwrap_or_default();
        let part = steps.checked_rem(per_unit).unwrap_or_default();
        write!(f, "{sign}{whole}.{part:0width$}")
    }
}

/// Tenths of a division within which the shown step stays.
const STAYS_TENTHS: i64 = 7;

/// The division of the scale, mg.
pub(super) const DIVISION: f32 = 100.0;
