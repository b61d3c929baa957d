//! The first judgement on each conversion: can the cell have said this?
//!
//! It judges single words and their times only; whether a plausible word fits its neighbours is the estimator's business.
//! Words that a disturbed serial line makes out of nothing are known by their patterns: all ones (−1), 2^n − 1 from 15 bits on,
//! and 20 479 and 24 575 (reported for this converter when the host stretches a clock pulse), and zero. The cell can truly rest
//! on such a value, so one is refused only if it stands away from the word before.

use serde::{Deserialize, Serialize};

use crate::converter::{ConverterFault, RawSample, SampleRate};
use crate::units::{Counts, Instant};

/// Why a sample cannot be used, or why there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum SensorFault {
    /// No conversion comes: check the converter's wires and power.
    Missing,
    /// The data line stays low: check for a short.
    Shorted,
    /// The same word again and again, which no real cell gives: check the cell's wires.
    Stuck,
    /// At the converter's upper end: overloaded, or a broken wire of the cell.
    SaturatedHigh,
    /// At the converter's lower end: pulled upwards, reversed and overloaded, or a broken wire of the cell.
    SaturatedLow,
    /// A word that the cell cannot have meant; one alone is dropped without a trace on the display.
    Garbled,
    /// The time of this sample is not after the one before.
    TimeBackwards,
    /// Conversions come at a rate for which this program was not made.
    OddRate,
}

/// A conversion that the cell can have meant. Only [`Check::judge`] makes one.
///
/// ```compile_fail
/// use yarn_scale_core::signal::CheckedSample;
/// use yarn_scale_core::units::{Counts, Instant};
/// let forged = CheckedSample { counts: Counts(1), at: Instant(0) };
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CheckedSample {
    counts: Counts,
    at: Instant,
}

impl CheckedSample {
    /// The word itself.
    #[must_use]
    pub const fn counts(self) -> Counts {
        self.counts
    }

    /// When it was read.
    #[must_use]
    pub const fn at(self) -> Instant {
        self.at
    }
}

/// Judges conversions one by one.
#[derive(Clone, Debug)]
pub struct Check {
    stuck_after: u8,
    last: Option<CheckedSample>,
    word: Option<Counts>,
    same: u8,
    read: Option<Instant>,
}

impl Check {
    /// A check that has seen nothing yet.
    #[must_use]
    pub const fn new(rate: SampleRate) -> Self {
        Self {
            stuck_after: match rate {
                SampleRate::Ten => STUCK_AT_TEN,
                SampleRate::Eighty => STUCK_AT_EIGHTY,
            },
            last: None,
            word: None,
            same: 0,
            read: None,
        }
    }

    /// Judges one conversion, read at `now`.
    ///
    /// # Errors
    /// What is wrong with it. Every fault but [`SensorFault::Garbled`] and the saturations says something about the sensor at once;
    /// those three may be a single disturbed word and mean something only when they last.
    pub fn judge(
        &mut self,
        now: Instant,
        raw: Result<RawSample, ConverterFault>,
    ) -> Result<CheckedSample, SensorFault> {
        let RawSample(counts) = raw.map_err(|fault| match fault {
            ConverterFault::Missing => SensorFault::Missing,
            ConverterFault::StuckLow => SensorFault::Shorted,
            ConverterFault::OddRate => SensorFault::OddRate,
        })?;
        if self.read.is_some_and(|before| now <= before) {
            // A clock that was set back goes on from there: only this one sample is lost.
            self.read = Some(now);
            return Err(SensorFault::TimeBackwards);
        }
        self.read = Some(now);
        self.same = if self.word == Some(counts) {
            self.same.saturating_add(1)
        } else {
            1
        };
        self.word = Some(counts);
        match counts.0 {
            HIGHEST.. => return Err(SensorFault::SaturatedHigh),
            ..=LOWEST => return Err(SensorFault::SaturatedLow),
            _ => {}
        }
        if self.same >= self.stuck_after {
            return Err(SensorFault::Stuck);
        }
        if is_pattern(counts) && !self.last.is_some_and(|last| near(last.counts, counts)) {
            return Err(SensorFault::Garbled);
        }
        let sample = CheckedSample { counts, at: now };
        self.last = Some(sample);
        Ok(sample)
    }
}

/// Whether a disturbed serial line is known to make this word.
const fn is_pattern(counts: Counts) -> bool {
    let Counts(word) = counts;
    let ones = word > 0 && word & word.wrapping_add(1) == 0 && word >= SHORTEST_ONES;
    ones || matches!(word, 0 | -1 | 20_479 | 24_575)
}

const fn near(a: Counts, b: Counts) -> bool {
    a.0.saturating_sub(b.0).saturating_abs() < NEAR
}

/// 0x7FFFFF: the converter's word for "more than I can say" (data sheet, output code; from memory).
const HIGHEST: i32 = 0x7F_FFFF;
/// 0x800000 as a signed 24-bit number.
const LOWEST: i32 = -0x80_0000;
/// 2^15 − 1, the shortest run of ones that has been reported as a false word.
const SHORTEST_ONES: i32 = 0x7FFF;
/// A pattern within this of the word before may be real: ten times the converter's noise at its worst, counts.
const NEAR: i32 = 1_500;
/// Equal words in a row, 10 a second. With 6 counts of noise, a tenth of the data sheet's, two in a row are equal one time in
/// twenty: twenty in a row never come.
const STUCK_AT_TEN: u8 = 20;
/// Equal words in a row, 80 a second.
const STUCK_AT_EIGHTY: u8 = 40;
