//! `restore`: putting a backup back onto a scale that holds less of the same journal, or nothing.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use indicatif::ProgressBar;
use yarn_scale_core::journal::{Entry, RingName, Sequence, decode};
use yarn_scale_core::link::PROTOCOL;

use super::backup::Backup;
use super::source::{SourceArgs, read_out};
use crate::failure::{BadInput, Failure};

/// Restores a backup onto a scale whose journal is empty or the beginning of the backup's.
///
/// Anything else is refused.
#[derive(Debug, Args)]
pub struct RestoreArgs {
    /// The backup.
    from: PathBuf,
    /// Only says what would change.
    #[arg(long)]
    dry_run: bool,
    /// The scale's serial port, or its own number; without it the one that is plugged in.
    #[arg(long, value_name = "PORT")]
    device: Option<PathBuf>,
}

impl RestoreArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line; the scale is as it was, or holds a longer beginning of the backup than before.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let backup = Backup::read(&self.from)?;
        let source = SourceArgs {
            device: self.device.clone(),
            file: None,
        };
        let mut client = source.client()?;
        let scale = read_out(&mut client)?;
        let missing = missing(&backup, &scale).map_err(|reason| BadInput::of_file(&self.from, reason))?;
        let marks = missing.iter().filter(|(ring, _)| *ring == RingName::Marks).count();
        let pairs = missing.iter().filter(|(ring, _)| *ring == RingName::Pairs).count();
        let visits = missing.len() - marks - pairs;
        if missing.is_empty() {
            writeln!(out, "nothing to restore: the scale holds all of it")?;
            return Ok(());
        }
        writeln!(
            out,
            "to restore: {marks} records, {pairs} closed pairs, {visits} visits; nothing is taken away"
        )?;
        if self.dry_run {
            return Ok(());
        }
        if scale.device.is_none_or(|device| device.protocol < PROTOCOL) {
            let reason =
                "the scale's program is older than this one: back it up, flash the newer program, then restore";
            return Err(Failure::Here(reason.into()));
        }
        let bar = ProgressBar::new(missing.len() as u64);
        for ring in [RingName::Pairs, RingName::Marks, RingName::Visits] {
            let entries = missing
                .iter()
                .filter(|(of, _)| *of == ring)
                .map(|(_, entry)| entry.as_slice());
            let before = bar.position();
            client
                .restore(ring, entries, |count| bar.set_position(before + count as u64))
                .map_err(|fault| Failure::Here(format!("stopped: {fault}; run it again to go on")))?;
        }
        bar.finish_and_clear();
        writeln!(out, "restored; the scale starts anew with it")?;
        Ok(())
    }
}

/// The entries that the scale lacks, if what it has is the beginning of the backup. Of visits, those that are later than its own.
fn missing(backup: &Backup, scale: &Backup) -> Result<Vec<(RingName, Vec<u8>)>, String> {
    let mut missing = Vec::new();
    for ring in [RingName::Pairs, RingName::Marks, RingName::Visits] {
        let of = |backup: &Backup| -> Vec<Vec<u8>> {
            backup
                .entries
                .iter()
                .filter(|(of, _)| *of == ring)
                .map(|(_, entry)| entry.clone())
                .collect()
        };
        let (saved, there) = (of(backup), of(scale));
        let number = |entry: &Vec<u8>| decode(entry).map_or(Sequence::default(), |entry: Entry| entry.sequence);
        let last = there.last().map(number).unwrap_or_default();
        if ring != RingName::Visits {
            let newest = saved.last().map(number).unwrap_or_default();
            if last > newest {
                return Err(format!(
                    "the backup is older than the scale: it ends at {}, the scale at {}",
                    newest.0, last.0
                ));
            }
            let is_beginning = there
                .iter()
                .all(|entry| saved.contains(entry) || number(entry) < saved.first().map(number).unwrap_or_default());
            if !is_beginning {
                return Err("the backup is another scale's, or the scale has gone on since in another way".into());
            }
        }
        // What is out of order in the backup is not read by anybody.
        let mut last = last;
        for entry in saved {
            let number = number(&entry);
            if number > last {
                last = number;
                missing.push((ring, entry));
            }
        }
    }
    Ok(missing)
}
