//! Recorded raw counts and presses through the same core: what the scale would have shown and noted.
//!
//! `trace.csv` (`t_ms,raw`) holds one conversion a line, `marks.csv` (`t_ms,event`) the presses, `cal.json` how counts
//! become grams. Out come JSON objects, one a line, in the order of things:
//!
//! | what | object |
//! |---|---|
//! | each sample | `t_ms`, `grams` (net estimate, not rounded to a division), `shown` (what the display says), `steady`, `fault` |
//! | each press, when it takes effect | `t_ms`, `event`, `gross_mg`, `used_mg`, `u_mg` (standard uncertainty, k = 1) |
//! | a correction of a mark | the same with `event` = `amend` and `index`: which `mark` of the file, from 0 |
//!
//! What a press could not do has nulls. A mark's `used_mg` is negative if there was more on the pan than before.

pub mod calibration;
pub(crate) mod column;
mod finger;
pub mod presses;
pub mod report;
pub mod session;
pub mod trace;

use std::io::{BufWriter, Write};
use std::path::PathBuf;

use clap::Args;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::units::Duration;
use yarn_scale_core::weighing::Calibration;

pub use column::TimeUnit;

use crate::failure::{BadInput, Failure};
use crate::lines::Lines;

/// Runs a recording through the scale and prints what it says, one JSON object a line.
#[derive(Debug, Args)]
pub struct Replay {
    /// Recorded conversions: CSV with header `t_ms,raw`, or as --time says. A conversion that a logger wrote down twice counts once.
    #[arg(long, value_name = "FILE")]
    pub trace: PathBuf,
    /// What the times of the trace count: `ms` (`t_ms,raw`), `s` (`t_s,raw`, with a point), `us` (`t_us,raw`). Presses are always in ms.
    #[arg(long, value_name = "UNIT", value_enum, default_value = "ms")]
    pub time: TimeUnit,
    /// Calibration: JSON with `zero_counts`, `counts_per_g`, `capacity_g`, `sps`.
    #[arg(long, value_name = "FILE")]
    pub cal: PathBuf,
    /// Recorded presses: CSV with header `t_ms,event`.
    #[arg(long, value_name = "FILE")]
    pub marks: Option<PathBuf>,
}

impl Replay {
    /// Runs the recording.
    ///
    /// # Errors
    /// [`Failure::Input`] for a file that is not as it should be, [`Failure::Output`] if `out` does not take it.
    pub fn run(&self, out: impl Write) -> Result<(), Failure> {
        let recorded = calibration::read(&self.cal)?;
        let calibration = Calibration::straight(recorded.zero.fine(), recorded.counts_per_g as f32);
        let calibration = calibration.map_err(|_| BadInput::of_file(&self.cal, "no calibration of a scale"))?;
        let presses = match &self.marks {
            Some(file) => presses::read(Lines::open(file)?)?,
            None => Vec::new(),
        };
        // Four tenths of a conversion's time: no converter is so much too fast.
        let twice_within = match recorded.rate {
            SampleRate::Ten => Duration(40),
            SampleRate::Eighty => Duration(5),
        };
        let mut trace = trace::Trace::of_logger(Lines::open(&self.trace)?, self.time, twice_within)?;
        let first = trace.next_sample()?;
        let first = first.ok_or_else(|| trace.complain("no sample after the header"))?;
        let report = report::Report::new(BufWriter::with_capacity(1 << 16, out));
        let mut session = session::Session::new(&recorded, calibration, presses, first.at, report)?;
        let mut next = Some(first);
        while let Some(sample) = next {
            session.sample(sample)?;
            next = trace.next_sample()?;
        }
        Ok(session.finish()?)
    }
}
