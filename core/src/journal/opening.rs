//! Opening the journal: what is replayed, and from where.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::codec;
use super::fence::{Ends, Fence};
use super::layout::Layout;
use super::open_pairs::OpenPairs;
use super::ring::Ring;
use super::sector::SECTOR;
use super::standing::Standing;
use super::{Entry, Journal, JournalFault, Record, Replayed, RingName, Sequence, Setting};

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
        let mut visits = Ring::new(RingName::Visits, 0, layout.visits);
        let mut pairs = Ring::new(RingName::Pairs, layout.visits, layout.pairs);
        let mut marks = Ring::new(
            RingName::Marks,
            layout.visits.saturating_add(layout.pairs),
            layout.marks,
        );
        let fence = Fence::find(flash, &visits)?;
        if let Some(Ends {
            pairs: pairs_end,
            marks: marks_end,
            visits: visits_end,
        }) = fence.and_then(|fence| fence.ends)
        {
            (pairs.end, marks.end, visits.end) = (Some(pairs_end), Some(marks_end), Some(visits_end));
        }
        for ring in [&mut visits, &mut pairs, &mut marks] {
            ring.find(flash)?;
        }
        let mut journal = Self {
            marks,
            pairs,
            visits,
            standing: Standing::new(),
            from: None,
            kept_from: None,
            open: OpenPairs::default(),
            condensed: 0,
            missing: 0,
            fence,
            restore: None,
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
        each: &mut dyn FnMut(Replayed<'_>),
    ) -> Result<(), JournalFault> {
        let mut pairs = self.pairs;
        let from = pairs.back(RECENT_PAIRS);
        pairs.replay(flash, from, None, &mut |replayed| {
            if let Replayed::Entry(entry) = replayed {
                self.learn_condensed(&entry.record);
            }
            each(replayed);
        })?;
        self.pairs = pairs;
        self.pairs.report_end(flash, each)?;
        Ok(())
    }

    fn replay_marks<F: NorFlash>(
        &mut self,
        flash: &mut F,
        each: &mut dyn FnMut(Replayed<'_>),
    ) -> Result<(), JournalFault> {
        self.from = self.checkpoint(flash)?;
        let (expected, from) = self.from.unwrap_or((Sequence(1), self.marks.tail()));
        let mut marks = self.marks;
        let mut kept_from = None;
        marks.replay(flash, from, Some(expected), &mut |replayed| {
            if let Replayed::Entry(entry) = replayed {
                self.learn(entry);
                if let Record::Setting(Setting::KeptFrom(from)) = entry.record {
                    kept_from = Some(from);
                }
            }
            each(replayed);
        })?;
        self.marks = marks;
        if let Some(from) = kept_from {
            self.keep_from(flash, from)?;
        }
        let unreadable = self.marks.report_end(flash, each)?;
        self.missing = u16::from(unreadable);
        Ok(())
    }

    pub(super) fn learn(&mut self, entry: &Entry) {
        self.standing.learn(entry.sequence, &entry.record);
        self.open.learn(&entry.record);
    }

    pub(super) fn learn_condensed(&mut self, record: &Record) {
        if let Record::Condensed { pair, .. } = record {
            self.condensed = self.condensed.max(*pair);
            self.open.learn(record);
        }
    }

    /// The newest checkpoint that counts: the number that replay begins with, and its sector.
    fn checkpoint<F: NorFlash>(&self, flash: &mut F) -> Result<Option<(Sequence, u16)>, JournalFault> {
        let mut begun_later = false;
        let mut sector = self.marks.head();
        loop {
            let (mut waiting, mut counts, mut begun) = (None, None, false);
            self.marks.read(flash, sector, &mut |bytes| {
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
}

/// Sectors of condensed pairs and of visits that are replayed at start-up besides the newest: 30 pairs at least, 130 visits.
pub(super) const RECENT_PAIRS: u16 = 3;
const RECENT_VISITS: u16 = 1;
