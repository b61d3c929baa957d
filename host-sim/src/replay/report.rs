//! The output: one JSON object a line.

use std::io::{self, Write};

use serde::Serialize;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::signal::SensorFault;
use yarn_scale_core::units::{Instant, Milligrams};
use yarn_scale_core::weighing::{Condition, Readout};

use super::presses::Event;

/// What the scale said with one sample.
#[derive(Serialize)]
struct SampleLine {
    t_ms: u64,
    grams: Option<f64>,
    shown: Option<String>,
    steady: bool,
    fault: Option<&'static str>,
}

/// What a press came to.
#[derive(Serialize)]
struct PressLine {
    t_ms: u64,
    event: Event,
    #[serde(flatten)]
    masses: Masses,
}

/// A mark that was corrected.
#[derive(Serialize)]
struct AmendLine {
    t_ms: u64,
    event: &'static str,
    index: usize,
    #[serde(flatten)]
    masses: Masses,
}

/// The masses that belong to an event, as far as they apply.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Masses {
    /// Everything on the pan.
    gross_mg: Option<i32>,
    /// What went since the last mark of the yarn.
    used_mg: Option<i32>,
    /// Standard uncertainty (k = 1) of `used_mg`, else of `gross_mg`.
    u_mg: Option<f32>,
}

impl Masses {
    /// After zero was set.
    #[must_use]
    pub const fn nothing_on_the_pan() -> Self {
        Self {
            gross_mg: Some(0),
            used_mg: None,
            u_mg: None,
        }
    }

    /// A load, and what went since the one before it.
    #[must_use]
    pub fn of(gross: Milligrams, u: f32, used: Option<Measured>) -> Self {
        Self {
            gross_mg: Some(gross.0),
            used_mg: used.map(|used| used.value.0),
            u_mg: Some(used.map_or(u, |used| used.u)),
        }
    }
}

/// Writes the lines.
#[derive(Debug)]
pub struct Report<W> {
    out: W,
}

impl<W: Write> Report<W> {
    /// A report to `out`, which should be buffered.
    pub fn new(out: W) -> Self {
        Self { out }
    }

    /// What the scale says at a sample.
    ///
    /// # Errors
    /// What writing says.
    pub fn sample(&mut self, at: Instant, readout: &Readout) -> io::Result<()> {
        self.line(&SampleLine {
            t_ms: at.0,
            grams: readout.net.map(|net| f64::from(net.value.0) / 1_000.0),
            shown: readout.shown.map(|shown| shown.to_string()),
            steady: readout.steady.is_some(),
            fault: fault_word(readout.condition),
        })
    }

    /// What a press came to.
    ///
    /// # Errors
    /// What writing says.
    pub fn press(&mut self, at: Instant, event: Event, masses: Masses) -> io::Result<()> {
        self.line(&PressLine {
            t_ms: at.0,
            event,
            masses,
        })
    }

    /// The mark number `index`, from 0, was corrected.
    ///
    /// # Errors
    /// What writing says.
    pub fn amend(&mut self, at: Instant, index: usize, masses: Masses) -> io::Result<()> {
        self.line(&AmendLine {
            t_ms: at.0,
            event: "amend",
            index,
            masses,
        })
    }

    /// Sees that everything is written.
    ///
    /// # Errors
    /// What writing says.
    pub fn finish(mut self) -> io::Result<()> {
        self.out.flush()
    }

    fn line(&mut self, line: &impl Serialize) -> io::Result<()> {
        serde_json::to_writer(&mut self.out, line)?;
        self.out.write_all(b"\n")
    }
}

/// Why there can be no number, in a word; none while one may come or is there.
fn fault_word(condition: Condition) -> Option<&'static str> {
    match condition {
        Condition::Starting | Condition::Weighing => None,
        Condition::Overload => Some("overload"),
        Condition::Underload => Some("underload"),
        Condition::Reversed => Some("reversed"),
        Condition::Fault(fault) => Some(match fault {
            SensorFault::Missing => "missing",
            SensorFault::Shorted => "shorted",
            SensorFault::Stuck => "stuck",
            SensorFault::SaturatedHigh | SensorFault::SaturatedLow => "saturated",
            SensorFault::Garbled => "garbled",
            SensorFault::TimeBackwards => "time",
            SensorFault::OddRate => "rate",
        }),
    }
}
