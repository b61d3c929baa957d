//! Recordings as files: `trace.csv`, `cal.json`, `marks.csv` as the replay reads them, and `truth.csv` and `events.txt` beside them.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use yarn_scale_core::converter::SampleRate;

use crate::failure::{BadInput, Failure};
use crate::files;
use crate::lab::measure::recording::{Event, Recording};
use crate::lab::measure::score::Question;
use crate::lab::measure::section::Course;
use crate::world::Unit;

/// Writes simulated recordings with their truth, in the format that `replay` reads.
#[derive(Args, Clone, Debug)]
pub struct TracesArgs {
    /// Folder to write into; each recording gets a folder of its own in it.
    folder: PathBuf,
    /// What happens in them.
    #[arg(long, value_enum, default_value_t = Kind::Handlings)]
    kind: Kind,
    /// Seed of the first; the others count on.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// How many.
    #[arg(long, default_value_t = 1)]
    count: u64,
    /// Samples a second.
    #[arg(long, default_value = "10", value_parser = ["10", "80"])]
    rate: String,
}

/// Kinds of recordings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Kind {
    /// Loads are placed, touched, bumped, pressed and removed.
    Handlings,
    /// A cake is knitted from the pan, pull by pull.
    Knitting,
    /// Nothing moves.
    Rest,
    /// Steps and other shaking.
    Shaking,
    /// Spoilt words.
    Faults,
    /// Changes of 0.3 g.
    Changes,
    /// Yarn is drawn slowly without pulls.
    Drain,
    /// Five sections; the cake comes back; just switched on.
    BackCold,
    /// Five sections; the cake comes back; on for hours.
    BackWarm,
    /// Five sections; the cake stays on the pan.
    Stays,
    /// Five sections under trouble of every kind.
    Adverse,
}

impl TracesArgs {
    /// Runs the command.
    ///
    /// # Errors
    /// [`Failure::Input`] if a file cannot be written, [`Failure::Output`] if `out` does not take its name.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let rate = if self.rate == "80" {
            SampleRate::Eighty
        } else {
            SampleRate::Ten
        };
        let name = self
            .kind
            .to_possible_value()
            .map_or(String::new(), |value| value.get_name().to_owned());
        for seed in (self.seed..=u64::MAX).take(usize::try_from(self.count).unwrap_or(usize::MAX)) {
            let folder = self.folder.join(format!("{name}-{seed}"));
            write(&self.kind.question().record(Unit::draw(seed), rate), &folder)?;
            writeln!(out, "{}", folder.display())?;
        }
        Ok(())
    }
}

impl Kind {
    const fn question(self) -> Question {
        match self {
            Self::Handlings => Question::Handling,
            Self::Knitting => Question::Knitting,
            Self::Rest => Question::Rest,
            Self::Shaking => Question::Shaking,
            Self::Faults => Question::Faults,
            Self::Changes => Question::Changes,
            Self::Drain => Question::Drain,
            Self::BackCold => Question::Sections(Course::BackCold),
            Self::BackWarm => Question::Sections(Course::BackWarm),
            Self::Stays => Question::Sections(Course::Stays),
            Self::Adverse => Question::Sections(Course::Adverse),
        }
    }
}

/// Writes a recording into `folder`, new or empty. A word that never arrived is a line that is not there.
///
/// # Errors
/// [`BadInput`] if something lies in the folder, or a file cannot be written.
pub fn write(recording: &Recording, folder: &Path) -> Result<(), BadInput> {
    let start = recording.conversions.first().map_or(0.0, |c| c.at);
    let milliseconds = |at: f64| ((at - start) * 1_000.0).round() as i64;
    let mut trace = String::from("t_ms,raw\n");
    let mut truth = String::from("t_ms,load_g,other_g,clean_counts,settled_counts,fault\n");
    for conversion in &recording.conversions {
        let t = milliseconds(conversion.at);
        if let Some(raw) = conversion.raw {
            trace += &format!("{t},{raw}\n");
        }
        let told = &conversion.truth;
        let fault = told.fault.map_or(String::new(), |fault| fault.to_string());
        truth += &format!(
            "{t},{:.4},{:.4},{:.2},{:.2},{fault}\n",
            told.load_g, told.other_g, told.clean_counts, told.settled_counts
        );
    }
    let mut marks = String::from("t_ms,event\n");
    let mut events = String::new();
    for event in &recording.events {
        if let Event::Mark(at, _) = event {
            marks += &format!("{},mark\n", milliseconds(*at));
        }
        events += &format!("{} {event}\n", milliseconds(event.begins()));
    }
    let calibration = serde_json::json!({
        "zero_counts": recording.calibration.zero_counts.round() as i64,
        "counts_per_g": recording.calibration.counts_per_g,
        "capacity_g": 500.0,
        "cell_capacity_g": recording.unit.cell_capacity_g,
        "division_g": 0.1,
        "sps": match recording.rate { SampleRate::Ten => 10, SampleRate::Eighty => 80 },
    });
    files::new_folder(folder)?;
    let texts = [
        ("trace.csv", trace),
        ("truth.csv", truth),
        ("marks.csv", marks),
        ("events.txt", events),
        ("cal.json", format!("{calibration:#}")),
    ];
    for (name, text) in texts {
        files::write_new(&folder.join(name), text.as_bytes())?;
    }
    Ok(())
}
