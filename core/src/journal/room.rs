//! Making room among the closed pairs: the oldest are let go, and overwritten only where their room is wanted.
//!
//! One setting says so ([`Setting::KeptFrom`](super::Setting)). Before it is in the journal all of them are kept; nothing is erased by it. Marks,
//! and with them all that is open, are in a ring of their own.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::expendable::Expendable;
use super::opening::RECENT_PAIRS;
use super::{Journal, JournalFault, Record, Sequence, Usage, codec};

/// The pairs that go if room is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Room {
    /// What is in short under lower numbers goes.
    pub from: Sequence,
    /// How many pairs that are.
    pub pairs: u16,
    /// The highest number among them.
    pub newest: u16,
}

impl Journal {
    /// Which pairs go if room is made: the oldest, an eighth of what there is room for. None as long as there is room, and none that a
    /// start reads.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub fn room<F: NorFlash>(&self, flash: &mut F) -> Result<Option<Room>, JournalFault> {
        let mut sector = self.begin_of_pairs();
        let part = (self.pairs.count() / PARTS).max(1);
        let is_near = self.usage().pairs_percent >= Usage::WARNING_PERCENT;
        if !is_near || self.pairs.age(sector) < part.saturating_add(RECENT_PAIRS) {
            return Ok(None);
        }
        let (mut pairs, mut newest, mut last) = (0_u16, 0, 0);
        for _ in 0..part {
            self.pairs.read(flash, sector, &mut |item| {
                // One that was opened again stands there twice.
                if let Ok(Record::Condensed { pair, .. }) = codec::decode(item).map(|entry| entry.record)
                    && pair != last
                {
                    (pairs, newest, last) = (pairs.saturating_add(1), pair.max(newest), pair);
                }
                ControlFlow::Continue(())
            })?;
            sector = self.pairs.after(sector);
        }
        let from = self.pairs.first_number(flash, sector)?;
        Ok(from.map(|from| Room { from, pairs, newest }))
    }

    /// Learns from where on pairs are kept: from the begin of the sector that holds this number.
    pub(super) fn keep_from<F: NorFlash>(&mut self, flash: &mut F, from: Sequence) -> Result<(), JournalFault> {
        let sector = self.pairs.sector_of(flash, from)?;
        let first = self.pairs.first_number(flash, sector)?;
        self.kept_from = first.map(|first| (first, sector));
        Ok(())
    }

    /// What may be overwritten among the pairs.
    pub(super) fn let_go(&self) -> Expendable {
        self.kept_from.map_or(Expendable::NONE, |(from, _)| Expendable(from))
    }

    /// The sector with which the pairs that are kept begin.
    pub(super) fn begin_of_pairs(&self) -> u16 {
        self.kept_from.map_or(self.pairs.tail(), |(_, sector)| sector)
    }
}

/// Each time that room is made, this part of it: on a journal of 1 MiB some 180 pairs go.
const PARTS: u16 = 8;
