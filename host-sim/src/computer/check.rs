//! `check`: what of a saved journal is whole, what is doubtful and what is lost.

use std::fmt::Write as _;
use std::io::Write;
use std::path::PathBuf;

use clap::Args;

use super::backup::Backup;
use super::damage::{Damage, PARTS};
use super::story::Story;
use crate::failure::Failure;
use crate::play::scenario::SectionName;

/// Says what of a backup or an image of a journal is whole, what is doubtful and what is lost. The file is only read.
///
/// The exit code is 0 if all is whole, 1 if something is missing or doubtful, 2 if the file is neither.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// A backup, or an image of the journal's flash.
    file: PathBuf,
}

impl CheckArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let backup = Backup::read(&self.file)?;
        let damage = Damage::of(&backup);
        out.write_all(text(&backup, &damage).as_bytes())?;
        damage.told()
    }
}

/// What is said of a backup.
#[must_use]
fn text(backup: &Backup, damage: &Damage) -> String {
    let mut text = String::new();
    for (ring, name) in PARTS {
        let count = backup.entries.iter().filter(|(of, _)| *of == ring).count();
        let _ = write!(text, "{name}: {count} records");
        if damage.among(ring).next().is_none() {
            text += ", whole";
        }
        text.push('\n');
        for place in damage.among(ring) {
            let _ = match place.missing {
                Some(0) => writeln!(text, "  out of order behind number {}", place.behind.0),
                Some(count) => writeln!(text, "  lost: {count} behind number {}", place.behind.0),
                None => writeln!(text, "  unreadable: something behind number {}", place.behind.0),
            };
        }
    }
    for pair in &Story::of(backup).pairs {
        let doubtful: Vec<String> = pair
            .sections
            .iter()
            .filter(|section| section.doubtful)
            .map(|section| SectionName(section.line.kind, section.line.sock).to_string())
            .collect();
        if !doubtful.is_empty() {
            let _ = writeln!(text, "doubtful in pair {}: {}", pair.number, doubtful.join(", "));
        }
    }
    text
}
