//! Plain newtypes for what the scale counts, weighs and times.
//!
//! Converter counts and milligrams are both `i32`; these types keep one from being taken for the other.

use core::ops::{Add, Neg, Sub};

use serde::{Deserialize, Serialize};

use crate::math::whole;

/// Converter output or a difference of two, in counts of the 24-bit converter (`-2^23 ..= 2^23 - 1`).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Counts(pub i32);

/// A level between two counts, in sixteenths of a count: averaging resolves more than one sample does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FineCounts(pub i32);

/// Mass in milligrams, exact; covers +/- 2.1 kg, four times the largest capacity.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Milligrams(pub i32);

/// Supply voltage in millivolts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Millivolts(pub u16);

/// A point on the shell's own monotonic clock, in milliseconds since power-on. Zero means nothing in particular.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Instant(pub u64);

/// A span of time in milliseconds (up to 49 days; longer ones saturate).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Duration(pub u32);

/// A time the journal keeps: seconds of the device's own clock, which goes on across power-offs from the last noted
/// time and is tied to the calendar only when a computer has set it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Stamp(pub u32);

impl Counts {
    /// The same level in sixteenths of a count.
    #[must_use]
    pub const fn fine(self) -> FineCounts {
        FineCounts(self.0.saturating_mul(FineCounts::PER_COUNT))
    }
}

impl FineCounts {
    /// Steps in one count.
    pub const PER_COUNT: i32 = 16;
}

impl Milligrams {
    /// Zero mass.
    pub const ZERO: Self = Self(0);

    /// Whole grams as milligrams.
    #[must_use]
    pub const fn from_grams(grams: i32) -> Self {
        Self(grams.saturating_mul(1_000))
    }

    /// What stands before the point of a mass in milligrams; saturates, nothing for NaN.
    #[must_use]
    pub const fn whole(milligrams: f32) -> Self {
        Self(whole(milligrams))
    }

    /// The sum, or `None` where it does not fit.
    #[must_use]
    pub const fn checked_add(self, other: Self) -> Option<Self> {
        match self.0.checked_add(other.0) {
            Some(sum) => Some(Self(sum)),
            None => None,
        }
    }

    /// The difference, or `None` where it does not fit.
    #[must_use]
    pub const fn checked_sub(self, other: Self) -> Option<Self> {
        match self.0.checked_sub(other.0) {
            Some(difference) => Some(Self(difference)),
            None => None,
        }
    }

    /// The magnitude.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.saturating_abs())
    }
}

impl Add for Milligrams {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Milligrams {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Milligrams {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Instant {
    /// Time passed since `earlier`; nothing if `earlier` is later.
    #[must_use]
    pub fn since(self, earlier: Self) -> Duration {
        Duration(u32::try_from(self.0.saturating_sub(earlier.0)).unwrap_or(u32::MAX))
    }
}

impl Add<Duration> for Instant {
    type Output = Self;
    fn add(self, span: Duration) -> Self {
        Self(self.0.saturating_add(u64::from(span.0)))
    }
}

impl Duration {
    /// Whole seconds.
    #[must_use]
    pub const fn from_secs(seconds: u32) -> Self {
        Self(seconds.saturating_mul(1_000))
    }
}
