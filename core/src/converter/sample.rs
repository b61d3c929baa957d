//! What comes out of the converter, before anybody has judged it.

use serde::{Deserialize, Serialize};

use crate::units::{Counts, Duration};

/// One conversion as it was read: signed 24-bit counts, not yet checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct RawSample(pub Counts);

/// Why there is no sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum ConverterFault {
    /// No conversion within five conversion times: not connected, not powered, or its data line stuck high.
    Missing,
    /// The data line stays low where the data sheet has it high: shorted, or another chip.
    StuckLow,
    /// Conversions come at a rate that is neither of [`SampleRate`]: the converter is set to none of them, or its clock is far off.
    OddRate,
}

/// Nominal conversions a second, set at the converter; its own clock may be off by -5 to +12 %.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum SampleRate {
    /// 10 a second: quieter, the default.
    #[default]
    Ten,
    /// 80 a second.
    Eighty,
}

impl SampleRate {
    /// Nominal conversions a second.
    #[must_use]
    pub const fn hertz(self) -> u16 {
        match self {
            Self::Ten => 10,
            Self::Eighty => 80,
        }
    }

    /// The rate that an interval between two conversions fits, if any; a fifth is left for one that was taken late, beyond what the chip's
    /// clock may be off.
    #[must_use]
    pub const fn of_interval(interval: Duration) -> Option<Self> {
        match interval.0 {
            75..=130 => Some(Self::Ten),
            8..=17 => Some(Self::Eighty),
            _ => None,
        }
    }
}
