//! `bench`: checks a newly built scale together with who built it, and writes the sheet filled in.
//!
//! The scale measures by itself; here stands only what it is asked for in which order, and what a person has to do or say meanwhile. What
//! came out is in the scale's journal, so that the sheet can be written again from any backup.

mod sheet;
mod steps;

use std::io::{BufRead, Write};
use std::path::PathBuf;

use clap::Args;

use self::steps::Steps;
use super::source::{SourceArgs, read_out};
use super::story::Story;
use crate::failure::Failure;
use crate::files;

/// Checks a newly built scale step by step, and writes the sheet with what came out.
///
/// The scale measures; the questions are answered here. A minus leaves a step out. The sheet is Markdown, to keep and to send in; what only
/// hands and a meter can measure is left blank in it. `--noted` asks nothing, and writes what the scale or a backup has noted before.
#[derive(Debug, Args)]
pub struct BenchArgs {
    /// The sheet to write; it must not exist yet.
    sheet: PathBuf,
    /// The known weight, grams.
    #[arg(long, default_value_t = 100, value_parser = clap::value_parser!(u16).range(20..=1_000))]
    mass: u16,
    /// Only writes what was noted before.
    #[arg(long)]
    noted: bool,
    #[command(flatten)]
    source: SourceArgs,
}

impl BenchArgs {
    /// Does it; `person` answers.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, person: impl BufRead, mut out: impl Write) -> Result<(), Failure> {
        let backup = if self.noted || self.source.file.is_some() {
            self.source.backup()?
        } else {
            let mut client = self.source.client()?;
            Steps::new(&mut client, person, &mut out, self.mass).take()?;
            read_out(&mut client)?
        };
        let filled = sheet::filled(&Story::of(&backup), backup.device.as_ref());
        files::write_new(&self.sheet, filled.text.as_bytes())?;
        writeln!(out, "{}", filled.summary)?;
        writeln!(out, "the sheet is in {}", self.sheet.display())?;
        Ok(())
    }
}
