//! A value that travels with its standard uncertainty.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize};

use crate::math::rss;
use crate::units::Milligrams;

/// A mass and its standard uncertainty (k = 1) in milligrams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Measured {
    /// The best estimate.
    pub value: Milligrams,
    /// Its standard uncertainty, mg, never negative.
    #[serde(deserialize_with = "uncertainty")]
    pub u: f32,
}

/// NaN would count for no uncertainty at all, and every answer made of it as certain.
pub(crate) fn uncertainty<'de, D: Deserializer<'de>>(from: D) -> Result<f32, D::Error> {
    let u = f32::deserialize(from)?;
    if u.is_finite() && u.is_sign_positive() {
        Ok(u)
    } else {
        Err(Error::custom("not an uncertainty"))
    }
}

/// The same where there may be none.
pub(crate) fn uncertainty_if_any<'de, D: Deserializer<'de>>(from: D) -> Result<Option<f32>, D::Error> {
    let u = Option::<f32>::deserialize(from)?;
    if u.is_none_or(|u| u.is_finite() && u.is_sign_positive()) {
        Ok(u)
    } else {
        Err(Error::custom("not an uncertainty"))
    }
}

impl Measured {
    /// The difference of two independent measurements; uncertainties combine by the root sum of squares.
    #[must_use]
    pub fn minus(self, other: Self) -> Self {
        Self {
            value: self.value - other.value,
            u: rss(self.u, other.u),
        }
    }

    /// The sum of two independent measurements.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            value: self.value + other.value,
            u: rss(self.u, other.u),
        }
    }

    /// Half-width of the 95 % interval (k = 1.96), mg, rounded up: a screen must not show more certainty than there is.
    #[must_use]
    pub fn expanded(self) -> Milligrams {
        Milligrams::whole(1.96 * self.u).plus_one()
    }
}

impl Milligrams {
    const fn plus_one(self) -> Self {
        Self(self.0.saturating_add(1))
    }
}
