//! Recordings as files: `trace.csv`, `cal.json`, `marks.csv` as the replay reads them, and `truth.csv` beside them.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use yarn_scale_core::converter::SampleRate;

use crate::measure::recording::{Event, Recording};

/// Writes a recording into `folder`, which is made if need be. A word that never arrived is a line that is not there.
///
/// # Errors
/// Whatever the file system says.
pub fn write(recording: &Recording, folder: &Path) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let create = |name: &str| fs::File::create(folder.join(name)).map(io::BufWriter::new);
    let start = recording.conversions.first().map_or(0.0, |c| c.at);
    let milliseconds = |at: f64| ((at - start) * 1_000.0).round() as i64;
    let mut trace = create("trace.csv")?;
    let mut truth = create("truth.csv")?;
    writeln!(trace, "t_ms,raw")?;
    writeln!(truth, "t_ms,load_g,other_g,clean_counts,settled_counts,fault")?;
    for conversion in &recording.conversions {
        let t = milliseconds(conversion.at);
        if let Some(raw) = conversion.raw {
            writeln!(trace, "{t},{raw}")?;
        }
        let told = &conversion.truth;
        let fault = told.fault.map_or(String::new(), |fault| format!("{fault:?}"));
        writeln!(
            truth,
            "{t},{:.4},{:.4},{:.2},{:.2},{fault}",
            told.load_g, told.other_g, told.clean_counts, told.settled_counts
        )?;
    }
    let mut marks = create("marks.csv")?;
    writeln!(marks, "t_ms,event")?;
    let mut events = create("events.txt")?;
    for event in &recording.events {
        if let Event::Mark(at, _) = event {
            writeln!(marks, "{},mark", milliseconds(*at))?;
        }
        writeln!(events, "{} {event:?}", milliseconds(event.begins()))?;
    }
    let calibration = serde_json::json!({
        "zero_counts": recording.calibration.zero_counts.round() as i64,
        "counts_per_g": recording.calibration.counts_per_g,
        "capacity_g": 500.0,
        "cell_capacity_g": recording.unit.cell_capacity_g,
        "division_g": 0.1,
        "sps": match recording.rate { SampleRate::Ten => 10, SampleRate::Eighty => 80 },
    });
    serde_json::to_writer_pretty(create("cal.json")?, &calibration)?;
    trace.flush()?;
    truth.flush()?;
    marks.flush()?;
    events.flush()
}
