//! What was weighed of a yarn, in which bowl, in what air. Part of the journal's format.

use serde::{Deserialize, Serialize};

use crate::math::whole;
use crate::measured::Measured;

/// A bowl that was tared once and is remembered under its number, 1 to 9.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct BowlNumber(pub u8);

/// A weight that the ledger keeps: net of the bowl.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Weight {
    /// Net mass and its standard uncertainty.
    pub net: Measured,
    /// The bowl it was weighed in.
    pub bowl: Option<BowlNumber>,
    /// Humidity of the air then, where a sensor is fitted.
    pub air: Option<Humidity>,
}

/// Relative humidity in halves of a percent, 0 to 200.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Humidity(pub u8);

impl Humidity {
    /// From percent; what lies outside 0 to 100 goes to the nearer end.
    #[must_use]
    pub fn from_percent(percent: f32) -> Self {
        Self(u8::try_from(whole(percent.clamp(0.0, 100.0) * 2.0)).unwrap_or_default())
    }

    /// In percent.
    #[must_use]
    pub fn percent(self) -> f32 {
        f32::from(self.0) * 0.5
    }
}
