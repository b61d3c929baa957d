//! What passes. `hardware-notes/bench-checks.md` shows the same limits with their sources.

use crate::converter::SampleRate;
use crate::journal::BenchCheck;
use crate::math::whole;
use crate::units::Milligrams;
use crate::weighing::Calibration;

/// Most that the measured supply may be off from a meter's, mV: a reference of 3.3 V within 3 %, a divider of two resistors of 1 %.
pub const SUPPLY_MILLIVOLTS: i32 = 200;

/// A conversion rate is off by so much at most, per mille of what the converter is set to.
pub const RATE_PER_MILLE: (i32, i32) = (950, 1_120);

/// Most noise of a conversion at ten a second, counts: six times what the data sheet has, and half as much again for a module on 3.3 V.
pub const NOISE_COUNTS: i32 = 228;

/// The same at eighty, where the converter's own noise is 90 nV in place of 50.
pub const NOISE_COUNTS_AT_EIGHTY: i32 = 410;

/// How far the empty pan may stand from nothing, counts.
pub const EMPTY_COUNTS: i32 = 800_000;

/// Counts a gram in percent of what 1 mV/V gives: cells have 0.7 to 1.2 mV/V, and gain and bridge some percent.
pub const SPAN_PERCENT: (i32, i32) = (65, 125);

/// Most drift of the empty pan once it is warm, counts a minute.
pub const DRIFT_COUNTS: i32 = 86;

/// Longest that a key may bounce, ms: what is left of the 20 that a contact is waited for.
pub const BOUNCE_MS: u8 = 15;

/// Longest from reset to the first number, ms.
pub const BOOT_MS: i32 = 1_500;

/// What the limits depend on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Built {
    /// What the load cell can carry.
    pub capacity: Milligrams,
    /// The rate that the converter is set to, once it is found.
    pub rate: Option<SampleRate>,
}

/// Whether a result is within its limits; `None` where there are none, or where others decide.
#[must_use]
pub fn passes(check: BenchCheck, value: i32, built: Built) -> Option<bool> {
    Some(match check {
        BenchCheck::Supply => is_within(value, SUPPLY_MILLIVOLTS),
        BenchCheck::Rate => [SampleRate::Ten, SampleRate::Eighty]
            .iter()
            .any(|rate| is_rate(value, *rate)),
        BenchCheck::Noise => {
            let most = if built.rate == Some(SampleRate::Eighty) {
                NOISE_COUNTS_AT_EIGHTY
            } else {
                NOISE_COUNTS
            };
            (0..=most.saturating_mul(1_000)).contains(&value)
        }
        BenchCheck::Empty => is_within(value, EMPTY_COUNTS),
        BenchCheck::Span => {
            let usual = counts_a_gram(built.capacity);
            let (least, most) = SPAN_PERCENT;
            let value = value.saturating_mul(100);
            (usual.saturating_mul(least)..=usual.saturating_mul(most)).contains(&value)
        }
        BenchCheck::Drift => is_within(value, DRIFT_COUNTS.saturating_mul(1_000)),
        BenchCheck::Keys => {
            let [zero, mark, next, _] = value.to_le_bytes();
            [zero, mark, next].iter().all(|&ms| ms <= BOUNCE_MS)
        }
        BenchCheck::Panel => value == 4,
        BenchCheck::Sensor | BenchCheck::Buzzer => value == 1,
        // A chip that does not know the command answers with nothing or with ones.
        BenchCheck::Flash => value != 0 && value != i32::MAX,
        BenchCheck::Boot => (0..=BOOT_MS).contains(&value),
        BenchCheck::Reset => return None,
    })
}

/// Whether a value is no further from nothing than that.
const fn is_within(value: i32, most: i32) -> bool {
    value.unsigned_abs() <= most.unsigned_abs()
}

/// Whether so many conversions in a thousand seconds are those of a rate.
fn is_rate(value: i32, rate: SampleRate) -> bool {
    let (least, most) = RATE_PER_MILLE;
    let nominal = i32::from(rate.hertz());
    (nominal.saturating_mul(least)..=nominal.saturating_mul(most)).contains(&value)
}

/// Counts a gram that cells of a capacity have in common.
#[must_use]
pub fn counts_a_gram(capacity: Milligrams) -> i32 {
    whole(1_000.0 / Calibration::nominal(capacity).mg_per_count())
}
