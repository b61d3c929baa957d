//! `restore`: putting a backup back onto a scale that holds less of the same journal, or nothing.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use indicatif::ProgressBar;
use yarn_scale_core::journal::{Entry, MAX_ENCODED, Record, RingName, Sequence, decode, encode};

use super::backup::Backup;
use super::damage::Damage;
use super::source::{SourceArgs, read_out};
use crate::device::flash::SECTOR;
use crate::failure::{BadInput, Failure};

/// Restores a backup onto an empty scale, or onto one that holds only the first part of the same backup. Anything else is refused.
///
/// All of it is restored or nothing, also if cable or power fail meanwhile; what the backup lacks, the scale lacks and says so. The exit code is 1 if something is missing in the backup.
#[derive(Debug, Args)]
pub struct RestoreArgs {
    /// The backup.
    from: PathBuf,
    /// Only says what would change.
    #[arg(long)]
    dry_run: bool,
    /// The scale's serial port, or its own number; if left out, the one scale that is plugged in.
    #[arg(long, value_name = "PORT")]
    device: Option<PathBuf>,
}

impl RestoreArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line. The scale is as it was, unless it says that all was restored.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let backup = Backup::read(&self.from)?;
        let source = SourceArgs {
            device: self.device.clone(),
            file: None,
        };
        let mut client = source.client()?;
        let scale = read_out(&mut client)?;
        let mut missing = missing(&backup, &scale).map_err(|reason| BadInput::of_file(&self.from, reason))?;
        if missing.is_empty() {
            writeln!(out, "nothing to restore: the scale holds all of it")?;
            return Ok(());
        }
        let count = |missing: &[Saved], of| missing.iter().filter(|(ring, _)| *ring == of).count();
        writeln!(
            out,
            "to restore: {} records, {} finished pairs, {} weighings; nothing is deleted",
            count(&missing, RingName::Marks),
            count(&missing, RingName::Pairs),
            count(&missing, RingName::Visits)
        )?;
        let damage = Damage::of(&backup);
        if self.dry_run {
            return damage.told();
        }
        if scale.device.is_none_or(|device| device.protocol < RESTORES) {
            let reason =
                "the scale's program is older than this one: back it up, flash the newer program, then restore";
            return Err(Failure::Here(reason.into()));
        }
        let stopped = |fault| Failure::Here(format!("stopped: {fault}; the scale is as it was, run it again"));
        let room = client.begin_restore().map_err(stopped)?;
        let left_out = leave_out_visits(&mut missing, room);
        let bar = ProgressBar::new(missing.len() as u64);
        for ring in RINGS {
            let entries = missing
                .iter()
                .filter(|(of, _)| *of == ring)
                .map(|(_, entry)| entry.as_slice());
            let before = bar.position();
            client
                .restore(ring, entries, |count| bar.set_position(before + count as u64))
                .map_err(stopped)?;
        }
        let ended = |fault| {
            Failure::Here(format!(
                "the end was not confirmed: {fault}; the scale has all of it or is as it was: run it again to know"
            ))
        };
        client.end_restore(&missing).map_err(ended)?;
        bar.finish_and_clear();
        writeln!(out, "restored; the scale now restarts")?;
        if left_out > 0 {
            writeln!(
                out,
                "the {left_out} oldest weighings did not fit beside the scale's own"
            )?;
        }
        damage.told()
    }
}

/// An entry of a backup: its ring, and its bytes.
type Saved = (RingName, Vec<u8>);

/// Leaves out the oldest visits that do not fit into so many sectors; says how many. They are those that go first anyway.
fn leave_out_visits(missing: &mut Vec<Saved>, sectors: u16) -> usize {
    let (mut sector, mut used) = (0_usize, 0);
    let mut places = Vec::new();
    for (_, visit) in missing.iter().filter(|(ring, _)| *ring == RingName::Visits) {
        let item = ITEM_HEADER + visit.len();
        if used + item > SECTOR - SECTOR_MARKS {
            (sector, used) = (sector + 1, 0);
        }
        used += item;
        places.push(sector);
    }
    let first = (sector + 1).saturating_sub(usize::from(sectors));
    let left_out = places.iter().filter(|&&place| place < first).count();
    let mut number = 0;
    missing.retain(|(ring, _)| {
        number += usize::from(*ring == RingName::Visits);
        *ring != RingName::Visits || number > left_out
    });
    left_out
}

/// Bytes in front of an item on flash, and bytes of a sector that hold none: its first and its last.
const ITEM_HEADER: usize = 8;
const SECTOR_MARKS: usize = 2;

/// The parts of a journal in the order in which they are restored.
const RINGS: [RingName; 3] = [RingName::Pairs, RingName::Marks, RingName::Visits];

/// What the scale itself would note next of something unreadable at the end of its marks: that a record is missing.
fn lost_at_end(backup: &Backup) -> Option<Saved> {
    let (_, last) = backup.entries.iter().rfind(|(ring, _)| *ring == RingName::Marks)?;
    let last = decode(last).ok()?;
    let lost = Entry {
        sequence: Sequence(last.sequence.0.checked_add(1)?),
        at: last.at,
        record: Record::Lost { count: 1 },
    };
    let mut buffer = [0; MAX_ENCODED];
    Some((RingName::Marks, encode(&lost, &mut buffer).ok()?.to_vec()))
}

/// The entries that the scale lacks, if what it has is the beginning of the backup. Of visits, those that are later than its own.
fn missing(backup: &Backup, scale: &Backup) -> Result<Vec<Saved>, String> {
    let mut missing = Vec::new();
    let lost = Some(backup)
        .filter(|backup| backup.unreadable.contains(&RingName::Marks))
        .and_then(lost_at_end);
    for ring in RINGS {
        let of = |entries: &[Saved]| -> Vec<Saved> { entries.iter().filter(|(of, _)| *of == ring).cloned().collect() };
        let (mut saved, there) = (of(&backup.entries), of(&scale.entries));
        saved.extend(lost.clone().filter(|(of, _)| *of == ring));
        let last = there.last().and_then(number).unwrap_or_default();
        if ring != RingName::Visits {
            let newest = saved.last().and_then(number).unwrap_or_default();
            if last > newest {
                return Err(format!(
                    "the backup is older than the scale: it ends at {}, the scale at {}",
                    newest.0, last.0
                ));
            }
            let first = saved.first().and_then(number).unwrap_or_default();
            let is_beginning = there
                .iter()
                .all(|entry| saved.contains(entry) || number(entry).unwrap_or_default() < first);
            if !is_beginning {
                let way_out = if holds_a_pair(scale) { "" } else { ERASE_FIRST };
                return Err(format!(
                    "the backup is another scale's, or the scale has gone on since in another way{way_out}"
                ));
            }
        }
        // What is out of order in the backup is not read by anybody.
        let mut last = last;
        for entry in saved {
            let number =
                number(&entry).ok_or("the backup has records that this program does not know: update this program")?;
            if number > last {
                last = number;
                missing.push((ring, entry.1));
            }
        }
    }
    // A scale whose own end is torn says so by itself.
    if missing.len() == 1 && lost.as_ref() == missing.first() && scale.unreadable.contains(&RingName::Marks) {
        missing.clear();
    }
    Ok(missing)
}

/// Whether anything of a pair was noted: more than the answers of the first start, settings and visits.
fn holds_a_pair(scale: &Backup) -> bool {
    let mut records = scale.entries.iter().filter_map(|(_, entry)| decode(entry).ok());
    records.any(|entry| matches!(entry.record, Record::PairBegun { .. } | Record::Condensed { .. }))
}

/// Nothing that a scale has noted is taken away by a restore, not even an answer; and its calibration is not the other's.
const ERASE_FIRST: &str = "; this scale holds no pair yet: erase everything as hardware-notes/flashing.md says, and restore before its first \
                           question is answered";

/// The number of an entry; `None` if this program does not understand it.
fn number((_, entry): &Saved) -> Option<Sequence> {
    decode(entry).ok().map(|entry| entry.sequence)
}

/// Since this protocol a scale takes a whole backup or nothing of it.
const RESTORES: u8 = 3;
