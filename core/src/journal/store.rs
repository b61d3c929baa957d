//! The journal on flash: three rings, and what is known of them.

use embedded_storage::nor_flash::NorFlash;

use super::expendable::Expendable;
use super::fence::Fence;
use super::open_pairs::OpenPairs;
use super::pair_event::of_a_pair;
use super::restoring::Restore;
use super::ring::Ring;
use super::standing::Standing;
use super::{Entry, JournalFault, Named, PairEvent, Record, Sequence, Setting};
use crate::units::Stamp;

/// The journal. The flash is lent to each call; it must be the same one every time.
#[derive(Clone, Debug)]
pub struct Journal {
    pub(super) marks: Ring,
    pub(super) pairs: Ring,
    pub(super) visits: Ring,
    pub(super) standing: Standing,
    /// Replay begins at this number, in this sector: everything before is condensed or noted again.
    pub(super) from: Option<(Sequence, u16)>,
    /// Closed pairs in short are kept from this number on, with which this sector begins.
    pub(super) kept_from: Option<(Sequence, u16)>,
    pub(super) open: OpenPairs,
    /// Number of the last pair that was condensed.
    pub(super) condensed: u16,
    /// Records missing before the next one.
    pub(super) missing: u16,
    /// What a restore has left that is to be erased before anything is noted.
    pub(super) fence: Option<Fence>,
    /// A restore that was begun.
    pub(super) restore: Option<Restore>,
}

impl Journal {
    /// Notes a record. When this returns, the record has been read back from flash.
    ///
    /// # Errors
    /// A [`JournalFault`] if it is not in the journal. What was there before still is; how many records were refused is
    /// noted with the next one that fits.
    pub fn append<F: NorFlash>(&mut self, flash: &mut F, at: Stamp, record: Record) -> Result<Entry, JournalFault> {
        self.settle(flash)?;
        match Where::of(&record) {
            Where::Visits => self.visits.append(flash, at, record, Expendable::ALL),
            Where::Pairs => {
                let entry = self.pairs.append(flash, at, record, self.let_go());
                if let Ok(entry) = &entry {
                    self.learn_condensed(&entry.record);
                }
                entry
            }
            Where::Marks => {
                let entry = self.append_mark(flash, at, record);
                if matches!(entry, Err(fault) if ![JournalFault::Uncondensed, JournalFault::Closed].contains(&fault)) {
                    self.missing = self.missing.saturating_add(1);
                }
                entry
            }
        }
    }

    fn append_mark<F: NorFlash>(&mut self, flash: &mut F, at: Stamp, record: Record) -> Result<Entry, JournalFault> {
        let begins_pair = matches!(record, Record::PairBegun { .. });
        if begins_pair && !self.open.has_room() {
            return Err(JournalFault::Full);
        }
        let closes_pair = matches!(record, Record::PairClosed { pair } if self.open.is_open(pair));
        if self.open.is_uncondensed() && (begins_pair || closes_pair) {
            return Err(JournalFault::Uncondensed);
        }
        if let Record::OfPair {
            pair,
            event: PairEvent::Reopened,
        } = record
            && !self.open.can_reopen(pair)
        {
            return Err(JournalFault::Closed);
        }
        // What is kept back lets room be made.
        let makes_room = matches!(
            record,
            Record::PairClosed { .. } | Record::Setting(Setting::KeptFrom(_))
        );
        if !makes_room && self.is_down_to_reserve(flash)? {
            return Err(JournalFault::Full);
        }
        if self.missing > 0 {
            let count = self.missing;
            self.note(flash, at, Record::Lost { count })?;
            self.missing = 0;
        }
        if self.is_cornered() && self.is_worth_a_checkpoint() {
            self.from = Some(self.note_checkpoint(flash, at, true)?);
        }
        let checkpoint = if begins_pair && self.is_far_from_checkpoint() && self.has_room_for_copies() {
            Some(self.note_checkpoint(flash, at, false)?)
        } else {
            None
        };
        let entry = self.note(flash, at, record)?;
        self.from = checkpoint.or(self.from);
        if let Record::Setting(Setting::KeptFrom(from)) = entry.record {
            self.keep_from(flash, from)?;
        }
        Ok(entry)
    }

    pub(super) fn note<F: NorFlash>(
        &mut self,
        flash: &mut F,
        at: Stamp,
        record: Record,
    ) -> Result<Entry, JournalFault> {
        let entry = self.marks.append(flash, at, record, self.expendable())?;
        self.learn(&entry);
        Ok(entry)
    }

    /// Marks before the checkpoint are not needed any more.
    fn expendable(&self) -> Expendable {
        self.from.map_or(Expendable::NONE, |(from, _)| Expendable(from))
    }

    /// Whether replay would have to read so far back that it is time for a checkpoint; the more it copies, the later.
    fn is_far_from_checkpoint(&self) -> bool {
        let spacing = (self.marks.count() / CHECKPOINTS).max(1);
        self.marks.age(self.begin()) >= spacing.max(self.open.sectors().saturating_mul(2))
    }

    /// Whether the marks needed fill the ring but for two sectors and what a checkpoint copies.
    fn is_cornered(&self) -> bool {
        self.free() <= self.open.sectors().saturating_add(2)
    }

    /// Whether a checkpoint can be noted now, loses nothing that is needed and makes room: it copies at most half of what it lets go of.
    fn is_worth_a_checkpoint(&self) -> bool {
        let copied = self.open.sectors();
        let makes_room = copied == 0 || copied.saturating_mul(2) < self.marks.age(self.begin());
        makes_room && !self.open.is_uncondensed() && self.has_room_for_copies()
    }

    fn has_room_for_copies(&self) -> bool {
        self.free() >= self.open.sectors()
    }

    /// Sectors that hold nothing needed, besides the one that is being written.
    fn free(&self) -> u16 {
        let kept = self.marks.age(self.begin()).saturating_add(1);
        self.marks.count().saturating_sub(kept)
    }

    /// Whether only what is kept back is left: what a checkpoint copies once the largest pair is closed, and in the head little more
    /// than the rest of a checkpoint takes.
    fn is_down_to_reserve<F: NorFlash>(&self, flash: &mut F) -> Result<bool, JournalFault> {
        let full = self.free() <= self.open.sectors_beside_largest();
        Ok(full && !self.is_worth_a_checkpoint() && self.marks.room(flash)? < RESERVE)
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
        self.copy_open_pairs(flash, at, from)?;
        let pair = self.open.begun();
        self.note(flash, at, Record::Checkpoint { from, pair, alone })?;
        Ok((from, self.marks.sector_of(flash, from)?))
    }

    /// Does ahead of time what would make an append slow: erases the sectors that are next. For idle time.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash refuses. A ring without room to gain is no error here.
    pub fn tidy<F: NorFlash>(&mut self, flash: &mut F) -> Result<(), JournalFault> {
        match self.settle(flash) {
            Err(JournalFault::Restoring) => return Ok(()),
            settled => settled?,
        }
        for done in [
            self.marks.clear_ahead(flash, self.expendable()),
            self.pairs.clear_ahead(flash, self.let_go()),
            self.visits.clear_ahead(flash, Expendable::ALL),
        ] {
            match done {
                Ok(()) | Err(JournalFault::Full) => {}
                Err(fault) => return Err(fault),
            }
        }
        Ok(())
    }

    /// The same, as far as it erases no entry: while the whole journal is read.
    ///
    /// # Errors
    /// As for [`Self::tidy`].
    pub fn tidy_blank<F: NorFlash>(&mut self, flash: &mut F) -> Result<(), JournalFault> {
        for ring in [&mut self.marks, &mut self.pairs, &mut self.visits] {
            if !ring.is_round() {
                ring.clear_ahead(flash, Expendable::NONE)?;
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
            Record::Reserved
            | Record::Calibrated(_)
            | Record::Bowl { .. }
            | Record::PairBegun { .. }
            | of_a_pair!()
            | Record::PairClosed { .. }
            | Record::Setting(_)
            | Record::Yarn { .. }
            | Record::ClockSet { .. }
            | Record::Named {
                what: Named::Yarn(_), ..
            }
            | Record::Lost { .. }
            | Record::Checkpoint { .. }
            | Record::Control { .. }
            | Record::Bench { .. } => Self::Marks,
        }
    }
}

/// Bytes kept back: a checkpoint with all nine bowls, all settings, eight named and labelled yarns and all results of the check on the
/// bench takes fewer. Proven by test.
const RESERVE: u32 = 1_700;

/// A checkpoint is due after this part of the marks' ring.
const CHECKPOINTS: u16 = 24;
