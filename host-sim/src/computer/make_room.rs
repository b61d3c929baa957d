//! `make-room`: a backup, and then the oldest pairs may go from the scale.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use yarn_scale_core::journal::{Record, RingName, Sequence, Setting, decode};
use yarn_scale_core::link::{Ask, LinkNote};

use super::backup::Backup;
use super::damage::Damage;
use super::source::{SourceArgs, read_out};
use crate::failure::Failure;

/// Makes room on a scale whose memory is nearly full: saves all of it into a file, then lets the oldest finished pairs go.
///
/// Pairs that are not finished stay whole. What goes is overwritten only where its room is wanted, and stands in the file in any case.
#[derive(Debug, Args)]
pub struct MakeRoomArgs {
    /// The backup to write; it must not exist yet.
    to: PathBuf,
    /// The scale's serial port, or its own number; if left out, the one scale that is plugged in.
    #[arg(long, value_name = "PORT")]
    device: Option<PathBuf>,
}

impl MakeRoomArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line. Nothing goes from the scale unless the file holds it.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let source = SourceArgs {
            device: self.device.clone(),
            file: None,
        };
        let failed = |fault| Failure::Here(format!("{fault}"));
        let mut client = source.client()?;
        let info = client.hello().map_err(failed)?;
        if info.protocol < MAKES_ROOM {
            return Err(Failure::Here(
                "the program on this scale is too old to make room: flash the newer one".into(),
            ));
        }
        let used = info.used_percent;
        if used < yarn_scale_core::journal::Usage::WARNING_PERCENT {
            let reason = format!("there is room enough on the scale: {used} % of its memory is in use");
            return Err(Failure::Here(reason));
        }
        let saved = read_out(&mut client)?;
        saved.write(&self.to)?;
        // What stands on the disk counts, not what was read.
        let saved = Backup::read(&self.to)?;
        let Some(expected) = saved.device.as_ref().map(|device| device.next) else {
            return Err(Failure::Here("the backup does not say which scale it is of".into()));
        };
        writeln!(out, "{} entries in {}", saved.entries.len(), self.to.display())?;
        let note = LinkNote::MakeRoom;
        // If anything was noted since the backup began, the scale refuses.
        let refused = |fault| Failure::Here(format!("no room was made: {fault}"));
        client.ask(&Ask::Note { expected, note }).map_err(refused)?;
        let then = read_out(&mut client)?;
        let gone = let_go(&saved, kept_from(&then));
        let newest = gone.iter().max().copied().unwrap_or_default();
        let used = client.hello().map_err(failed)?.used_percent;
        writeln!(
            out,
            "the {} oldest finished pairs, up to pair {newest}, go where their room is wanted; {used} % of the memory is in use",
            gone.len()
        )?;
        Damage::of(&saved).told()
    }
}

/// Since this protocol a scale makes room when it is asked to.
const MAKES_ROOM: u8 = 5;

/// From which number on the scale keeps pairs in short.
fn kept_from(backup: &Backup) -> Sequence {
    let newest = backup
        .entries
        .iter()
        .rev()
        .find_map(|(_, entry)| match decode(entry).ok()?.record {
            Record::Setting(Setting::KeptFrom(from)) => Some(from),
            _ => None,
        });
    newest.unwrap_or_default()
}

/// The pairs that stand in short under lower numbers.
fn let_go(backup: &Backup, from: Sequence) -> Vec<u16> {
    let pairs = backup.entries.iter().filter(|(ring, _)| *ring == RingName::Pairs);
    let mut gone: Vec<u16> = pairs
        .filter_map(|(_, entry)| decode(entry).ok())
        .filter(|entry| entry.sequence < from)
        .filter_map(|entry| match entry.record {
            Record::Condensed { pair, .. } => Some(pair),
            _ => None,
        })
        .collect();
    gone.dedup();
    gone
}
