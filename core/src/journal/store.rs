//! The journal on flash: three rings, and what is known of them.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::codec;
use super::expendable::Expendable;
use super::layout::Layout;
use super::ring::Ring;
use super::sector::SECTOR;
use super::standing::Standing;
use super::{Entry, JournalFault, Named, Record, Replayed, RingName, Sequence};
use crate::units::Stamp;

/// The journal. The flash is lent to each call; it must be the same one every time.
#[derive(Clone, Debug)]
pub struct Journal {
    pub(super) marks: Ring,
    pub(super) pairs: Ring,
    pub(super) visits: Ring,
    standing: Standing,
    /// Replay begins at this number, in this sector: everything before is condensed or noted again.
    pub(super) from: Option<(Sequence, u16)>,
    /// Number of the last pair that was begun, and whether it is closed.
    begun: u16,
    closed: bool,
    /// Number of the last pair that was condensed.
    condensed: u16,
    /// Records missing before the next one.
    missing: u16,
}

impl Journal {
    /// Opens the journal on this flash and replays what the state of the scale is made of: the latest condensed pairs, then
    /// marks and all else since the last checkpoint, then the latest visits, each oldest first.
    ///
    /// A blank flash, or one with anything else on it, is an empty journal.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read; [`JournalFault::Unsuitable`] if it is too small.
    pub fn open<F: NorFlash>(flash: &mut F, mut each: impl FnMut(Replayed<'_>)) -> Result<Self, JournalFault> {
        const { assert!(F::ERASE_SIZE == SECTOR as usize) };
        let layout = Layout::of(flash.capacity())?;
        let visits = Ring::find(flash, RingName::Visits, 0, layout.visits)?;
        let pairs = Ring::find(flash, RingName::Pairs, layout.visits, layout.pairs)?;
        let first = layout.visits.saturating_add(layout.pairs);
        let marks = Ring::find(flash, RingName::Marks, first, layout.marks)?;
        let mut journal = Self {
            marks,
            pairs,
            visits,
            standing: Standing::new(),
            from: None,
            begun: 0,
            closed: true,
            condensed: 0,
            missing: 0,
        };
        journal.replay_pairs(flash, &mut each)?;
        journal.replay_marks(flash, &mut each)?;
        let from = journal.visits.back(RECENT_VISITS);
        journal.visits.replay(flash, from, None, &mut each)?;
        journal.visits.report_end(flash, &mut each)?;
        Ok(journal)
    }

    fn replay_pairs<F: NorFlash>(
        &mut self,
        flash: &mut F,
        each: &mut impl FnMut(Replayed<'_>),
    ) -> Result<(), JournalFault> {
        let condensed = &mut self.condensed;
        let from = self.pairs.back(RECENT_PAIRS);
        self.pairs.replay(flash, from, None, |replayed| {
            if let Replayed::Entry(Entry {
                record: Record::Condensed { pair, .. },
                ..
            }) = replayed
            {
                *condensed = (*condensed).max(*pair);
            }
            each(replayed);
        })?;
        self.pairs.report_end(flash, each)?;
        Ok(())
    }

    fn replay_marks<F: NorFlash>(
        &mut self,
        flash: &mut F,
        each: &mut impl FnMut(Replayed<'_>),
    ) -> Result<(), JournalFault> {
        self.from = self.checkpoint(flash)?;
        let (expected, from) = self.from.unwrap_or((Sequence(1), self.marks.tail()));
        let mut marks = self.marks;
        marks.replay(flash, from, Some(expected), |replayed| {
            if let Replayed::Entry(entry) = replayed {
                self.learn(entry);
            }
            each(replayed);
        })?;
        self.marks = marks;
        let unreadable = self.marks.report_end(flash, each)?;
        self.missing = u16::from(unreadable);
        Ok(())
    }

    fn learn(&mut self, entry: &Entry) {
        self.standing.learn(entry.sequence, &entry.record);
        match entry.record {
            Record::PairBegun { pair, .. } => (self.begun, self.closed) = (pair, false),
            Record::Checkpoint { pair, .. } => self.begun = self.begun.max(pair),
            Record::PairClosed { .. } => self.closed = true,
            _ => {}
        }
    }

    /// The newest checkpoint that counts: the number that replay begins with, and its sector.
    fn checkpoint<F: NorFlash>(&self, flash: &mut F) -> Result<Option<(Sequence, u16)>, JournalFault> {
        let mut begun_later = false;
        let mut sector = self.marks.head();
        loop {
            let (mut waiting, mut counts, mut begun) = (None, None, false);
            self.marks.read(flash, sector, |bytes| {
                match codec::decode(bytes).map(|entry| entry.record) {
                    Ok(Record::Checkpoint { from, alone: true, .. }) => (waiting, counts) = (None, Some(from)),
                    Ok(Record::Checkpoint { from, .. }) => waiting = Some(from),
                    Ok(Record::PairBegun { .. }) => {
                        counts = waiting.take().or(counts);
                        begun = true;
                    }
                    _ => {}
                }
                ControlFlow::Continue(())
            })?;
            if begun_later {
                counts = waiting.or(counts);
            }
            if let Some(from) = counts {
                return Ok(Some((from, self.marks.sector_of(flash, from)?)));
            }
            begun_later |= begun;
            if sector == self.marks.tail() {
                return Ok(None);
            }
            sector = self.marks.before(sector);
        }
    }

    /// Notes a record. When this returns, the record has been read back from flash.
    ///
    /// # Errors
    /// A [`JournalFault`] if it is not in the journal. What was there before still is; how many records were refused is
    /// noted with the next one that fits.
    pub fn append<F: NorFlash>(&mut self, flash: &mut F, at: Stamp, record: Record) -> Result<Entry, JournalFault> {
        match Where::of(&record) {
            Where::Visits => self.visits.append(flash, at, record, Expendable::ALL),
            Where::Pairs => {
                let condensed = match record {
                    Record::Condensed { pair, .. } => pair,
                    _ => 0,
                };
                let entry = self.pairs.append(flash, at, record, Expendable::NONE);
                if entry.is_ok() {
                    self.condensed = self.condensed.max(condensed);
                }
                entry
            }
            Where::Marks => {
                let entry = self.append_mark(flash, at, record);
                if matches!(entry, Err(fault) if fault != JournalFault::Uncondensed) {
                    self.missing = self.missing.saturating_add(1);
                }
                entry
            }
        }
    }

    fn append_mark<F: NorFlash>(&mut self, flash: &mut F, at: Stamp, record: Record) -> Result<Entry, JournalFault> {
        let begins_pair = matches!(record, Record::PairBegun { .. });
        if begins_pair && self.condensed < self.begun {
            return Err(JournalFault::Uncondensed);
        }
        // What is kept back lets a pair be closed, which makes room.
        if !matches!(record, Record::PairClosed { .. }) && self.is_down_to_reserve(flash)? {
            return Err(JournalFault::Full);
        }
        if self.missing > 0 {
            let count = self.missing;
            self.note(flash, at, Record::Lost { count })?;
            self.missing = 0;
        }
        if self.closed && self.is_cornered() && self.condensed >= self.begun {
            self.from = Some(self.note_checkpoint(flash, at, true)?);
        }
        let checkpoint = if begins_pair && self.is_far_from_checkpoint() {
            Some(self.note_checkpoint(flash, at, false)?)
        } else {
            None
        };
        let entry = self.note(flash, at, record)?;
        self.from = checkpoint.or(self.from);
        Ok(entry)
    }

    fn note<F: NorFlash>(&mut self, flash: &mut F, at: Stamp, record: Record) -> Result<Entry, JournalFault> {
        let entry = self.marks.append(flash, at, record, self.expendable())?;
        self.learn(&entry);
        Ok(entry)
    }

    /// Marks before the checkpoint are not needed any more.
    fn expendable(&self) -> Expendable {
        self.from.map_or(Expendable::NONE, |(from, _)| Expendable(from))
    }

    /// Whether replay would have to read so far back that it is time for a checkpoint.
    fn is_far_from_checkpoint(&self) -> bool {
        let spacing = (self.marks.count() / CHECKPOINTS).max(1);
        self.marks.age(self.begin()) >= spacing
    }

    /// Whether the marks needed fill the ring but for two sectors.
    fn is_cornered(&self) -> bool {
        self.marks.age(self.begin()).saturating_add(3) >= self.marks.count()
    }

    /// Whether only what is kept back is left: no sector but the head, and in it little more than a checkpoint takes.
    fn is_down_to_reserve<F: NorFlash>(&self, flash: &mut F) -> Result<bool, JournalFault> {
        let full = self.marks.age(self.begin()).saturating_add(1) >= self.marks.count();
        Ok(full && !(self.closed && self.condensed >= self.begun) && self.marks.room(flash)? < RESERVE)
    }

    /// The sector that replay begins with.
    pub(super) fn begin(&self) -> u16 {
        self.from.map_or(self.marks.tail(), |(_, sector)| sector)
    }

    /// Notes all that stands once more, so that nothing before is needed any longer.
    fn note_checkpoint<F: NorFlash>(
        &mut self,
        flash: &mut F,
        at: Stamp,
        alone: bool,
    ) -> Result<(Sequence, u16), JournalFault> {
        let from = self.marks.next();
        for number in self.standing.before(from) {
            if let Some(entry) = self.marks.entry(flash, number)? {
                self.note(flash, entry.at, entry.record)?;
            }
        }
        let pair = self.begun;
        self.note(flash, at, Record::Checkpoint { from, pair, alone })?;
        Ok((from, self.marks.sector_of(flash, from)?))
    }

    /// Does ahead of time what would make an append slow: erases the sectors that are next. For when nobody waits.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash refuses. That there is nothing to be had is no error here.
    pub fn tidy<F: NorFlash>(&mut self, flash: &mut F) -> Result<(), JournalFault> {
        for done in [
            self.marks.clear_ahead(flash, self.expendable()),
            self.pairs.clear_ahead(flash, Expendable::NONE),
            self.visits.clear_ahead(flash, Expendable::ALL),
        ] {
            match done {
                Ok(()) | Err(JournalFault::Full) => {}
                Err(fault) => return Err(fault),
            }
        }
        Ok(())
    }

    /// Records among the marks that are missing before the next one: refused, or cut off in their writing.
    #[must_use]
    pub const fn missing(&self) -> u16 {
        self.missing
    }

    /// Number of the last pair that is condensed; 0 before the first.
    #[must_use]
    pub const fn condensed(&self) -> u16 {
        self.condensed
    }
}

/// The ring that a record goes to.
enum Where {
    Marks,
    Pairs,
    Visits,
}

impl Where {
    const fn of(record: &Record) -> Self {
        match record {
            Record::Visit { .. } | Record::Started(_) => Self::Visits,
            Record::Condensed { .. }
            | Record::Named {
                what: Named::Pair(_), ..
            } => Self::Pairs,
            _ => Self::Marks,
        }
    }
}

/// Sectors of condensed pairs and of visits that are replayed at start-up besides the newest: 30 pairs at least, 130 visits.
const RECENT_PAIRS: u16 = 3;
const RECENT_VISITS: u16 = 1;

/// Bytes kept back: a checkpoint with all nine bowls, all settings and eight named and labelled yarns takes fewer. Proven
/// by test.
const RESERVE: u32 = 1_280;

/// A checkpoint is due after this part of the marks' ring.
const CHECKPOINTS: u16 = 24;
