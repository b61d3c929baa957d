//! `record`: the converter's raw counts while the scale weighs, in the form that `replay` takes.
//!
//! The trace is there from its first row on, and grows: whoever ends the command early has what came until then.

use std::fs::File;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use clap::Args;
use serde_json::json;
use yarn_scale_core::journal::{Record, decode};
use yarn_scale_core::link::{Answer, Ask, Conversion, DeviceInfo};
use yarn_scale_core::units::FineCounts;
use yarn_scale_core::weighing::Calibration;

use super::backup::Backup;
use super::client::{Client, ClientFault};
use super::source::{SourceArgs, read_out};
use crate::failure::{BadInput, Failure};
use crate::files;

/// Records the raw counts of a scale while it weighs, as a trace for `replay`.
///
/// Nothing is noted on the scale, and it weighs on. The file grows row by row: Ctrl-C ends the recording early. A scale that is not used for
/// long switches its converter off: a load or a key wakes it, and the recording goes on.
#[derive(Debug, Args)]
pub struct RecordArgs {
    /// The trace to write: CSV with header `t_ms,raw`, times since the scale was switched on. It must not exist yet.
    trace: PathBuf,
    /// How long, in seconds.
    #[arg(long, default_value_t = 600, value_parser = clap::value_parser!(u64).range(1..=86_400))]
    seconds: u64,
    /// Writes the scale's calibration beside it, as `replay --cal` takes it.
    #[arg(long, value_name = "FILE")]
    cal: Option<PathBuf>,
    /// The scale's serial port, or its own number; if left out, the one scale that is plugged in.
    #[arg(long, value_name = "PORT")]
    device: Option<PathBuf>,
}

impl RecordArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let device = self.device.clone();
        let mut client = SourceArgs { device, file: None }.client()?;
        let failed = |fault: ClientFault| Failure::Here(fault.to_string());
        let info = client.hello().map_err(failed)?;
        if info.protocol < RECORDS {
            return Err(Failure::Here(
                "the program on this scale is too old to record: flash the newer one".into(),
            ));
        }
        let bad = |error| BadInput::of_file(&self.trace, error);
        let mut file = File::create_new(&self.trace).map_err(bad)?;
        let end = Instant::now() + Duration::from_secs(self.seconds);
        let recorded = record(&mut client, &mut file, || Instant::now() < end);
        let recorded = recorded.map_err(|failure| match failure {
            Ended::File(error) => bad(error).into(),
            Ended::Line(fault) => failed(fault),
        })?;
        if let Some(path) = &self.cal {
            let calibration = calibration(&read_out(&mut client)?);
            write_calibration(path, calibration.as_ref(), &info, recorded.rate())?;
        }
        let told = format!("{} conversions are in {}", recorded.rows, self.trace.display());
        let missed = match recorded.missed {
            0 => String::new(),
            missed => format!("; others are missing at {missed} places"),
        };
        let asleep = if recorded.rows == 0 {
            ": does the scale sleep?"
        } else {
            ""
        };
        writeln!(out, "{told}{asleep}{missed}")?;
        Ok(())
    }
}

/// What came of a recording.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Recorded {
    /// Conversions in it.
    pub rows: u64,
    /// Places at which others are missing.
    pub missed: u32,
    /// Times of the first and the last, ms.
    pub span: Option<(u32, u32)>,
}

impl Recorded {
    /// Nominal conversions a second, by their times.
    fn rate(&self) -> u16 {
        let milliseconds: u64 = self.span.map_or(0, |(first, last)| last.saturating_sub(first).into());
        if self.rows.saturating_mul(1_000) > milliseconds.saturating_mul(30) {
            80
        } else {
            10
        }
    }
}

/// Why a recording ended.
#[derive(Debug)]
pub enum Ended {
    /// The file does not take it.
    File(io::Error),
    /// The scale does not answer.
    Line(ClientFault),
}

/// Records into `trace` as long as `goes_on` says, asked after each answer.
///
/// # Errors
/// Why it ended before that.
pub fn record<L: Read + Write>(
    client: &mut Client<L>,
    mut trace: impl Write,
    mut goes_on: impl FnMut() -> bool,
) -> Result<Recorded, Ended> {
    let mut recorded = Recorded::default();
    writeln!(trace, "t_ms,raw").map_err(Ended::File)?;
    while goes_on() {
        let Answer::Conversions { missed, all } = client.ask(&Ask::Conversions).map_err(Ended::Line)? else {
            return Err(Ended::Line(ClientFault::Confused));
        };
        recorded.missed += u32::from(missed);
        let mut rows = String::new();
        for bytes in all.as_chunks().0 {
            let conversion = Conversion::from_bytes(*bytes);
            rows += &format!("{},{}\n", conversion.at, conversion.raw);
            recorded.rows += 1;
            let (first, _) = recorded.span.unwrap_or((conversion.at, conversion.at));
            recorded.span = Some((first, conversion.at));
        }
        trace.write_all(rows.as_bytes()).map_err(Ended::File)?;
        std::thread::sleep(BETWEEN);
    }
    Ok(recorded)
}

/// The calibration that holds on a scale.
fn calibration(backup: &Backup) -> Option<Calibration> {
    let records = backup.entries.iter().rev();
    let mut records = records.filter_map(|(_, entry)| decode(entry).ok().map(|entry| entry.record));
    records.find_map(|record| match record {
        Record::Calibrated(calibration) => Some(calibration),
        _ => None,
    })
}

fn write_calibration(path: &Path, own: Option<&Calibration>, info: &DeviceInfo, rate: u16) -> Result<(), Failure> {
    let nominal = Calibration::nominal(info.capacity);
    let calibration = own.unwrap_or(&nominal);
    let text = json!({
        "zero_counts": calibration.zero().0 / FineCounts::PER_COUNT,
        "counts_per_g": 1_000.0 / f64::from(calibration.mg_per_count()),
        "capacity_g": f64::from(info.capacity.0) / 1_000.0,
        "sps": rate,
    });
    files::write_new(path, format!("{text:#}\n").as_bytes())?;
    Ok(())
}

/// Since this protocol a scale can be recorded.
const RECORDS: u8 = 4;

/// Between two questions: so short that 64 conversions at 80 a second do not come in between, even if an answer is lost.
const BETWEEN: Duration = Duration::from_millis(100);
