//! What comes out of the converter, before anybody has judged it.

use serde::{Deserialize, Serialize};

use crate::units::Counts;

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
}

/// Nominal conversions a second, set by a strap on the converter; the chip's own clock is off by -5 to +12 %.
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
    /// Nominal time between conversions, ms (rounded down).
    #[must_use]
    pub const fn period_ms(self) -> u32 {
        match self {
            Self::Ten => 100,
            Self::Eighty => 12,
        }
    }
}
