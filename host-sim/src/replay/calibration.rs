//! `cal.json`: how the recorded counts become grams.

use std::path::Path;

use serde::Deserialize;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::units::Counts;

use super::trace::COUNTS;
use crate::failure::BadInput;
use crate::lines::read_small;

/// A recording's calibration.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RecordedCalibration {
    /// Output of the empty pan.
    pub zero: Counts,
    /// Span; negative if the cell is the other way round.
    pub counts_per_g: f64,
    /// Most that may be on the pan, g.
    pub capacity_g: f64,
    /// Nominal conversions a second.
    pub rate: SampleRate,
}

/// The file as it stands; keys that are not named here are not used.
#[derive(Deserialize)]
struct Stored {
    zero_counts: i64,
    counts_per_g: f64,
    capacity_g: f64,
    sps: i64,
    span_counts: Option<serde_json::Value>,
}

/// Reads a calibration.
///
/// # Errors
/// [`BadInput`] if a key is missing or of another type, or if its value cannot be a scale's.
pub fn read(file: &Path) -> Result<RecordedCalibration, BadInput> {
    let text = read_small(file, MOST)?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let stored: Stored = serde_json::from_str(text).map_err(|error| {
        let place = format!(" at line {} column {}", error.line(), error.column());
        let reason = error.to_string();
        BadInput::of_line(
            file,
            error.line() as u64,
            reason.strip_suffix(&place).unwrap_or(&reason),
        )
    })?;
    let at = |key: &str, reason: String| BadInput::of_line(file, line_of(text, key), reason);
    check(&stored).map_err(|(key, reason)| at(key, reason))
}

fn check(stored: &Stored) -> Result<RecordedCalibration, (&'static str, String)> {
    let zero = i32::try_from(stored.zero_counts)
        .ok()
        .filter(|zero| COUNTS.contains(zero));
    let zero = zero.ok_or_else(|| {
        let reason = format!("zero_counts {} is outside signed 24 bits", stored.zero_counts);
        ("zero_counts", reason)
    })?;
    let span = stored.counts_per_g;
    if !SPAN.contains(&span.abs()) {
        let reason = format!(
            "counts_per_g {span} is not between {} and {} in magnitude",
            SPAN.start(),
            SPAN.end()
        );
        return Err(("counts_per_g", reason));
    }
    if stored.span_counts.as_ref().and_then(serde_json::Value::as_i64) == Some(stored.zero_counts) {
        let reason = "calibration points are equal: span_counts is zero_counts".to_owned();
        return Err(("span_counts", reason));
    }
    let capacity = stored.capacity_g;
    if !CAPACITY.contains(&capacity) {
        let reason = format!(
            "capacity_g {capacity} is not between {} and {}",
            CAPACITY.start(),
            CAPACITY.end()
        );
        return Err(("capacity_g", reason));
    }
    let rate = match stored.sps {
        10 => SampleRate::Ten,
        80 => SampleRate::Eighty,
        other => return Err(("sps", format!("sps {other} is neither 10 nor 80"))),
    };
    Ok(RecordedCalibration {
        zero: Counts(zero),
        counts_per_g: span,
        capacity_g: capacity,
        rate,
    })
}

/// The line of the first mention of a key, from 1.
fn line_of(text: &str, key: &str) -> u64 {
    let quoted = format!("{key:?}");
    let before = text.split(&quoted).next().unwrap_or_default();
    before.matches('\n').count() as u64 + 1
}

/// Longest file, bytes.
const MOST: u64 = 65_536;
/// Counts a gram that the core takes for a scale's: below, a tenth of a gram is a count; above, 84 g fill the converter.
const SPAN: std::ops::RangeInclusive<f64> = 10.0..=100_000.0;
/// Capacities that the core's milligrams can hold with room for overload, g.
const CAPACITY: std::ops::RangeInclusive<f64> = 1.0..=2_000.0;
