//! Taking a backup over, all of it or nothing: what is restored is written behind a [fence](super::fence) and counts once the end is
//! confirmed. Cut before that, by power or cable, the journal is as it was.

use embedded_storage::nor_flash::NorFlash;

use super::expendable::Expendable;
use super::fence::{Ends, Fence};
use super::ring::Ring;
use super::{Entry, Journal, JournalFault, RingName, Sequence, codec, packed, sector};
use crate::checksum::Crc32;

/// A restore that was begun.
#[derive(Clone, Debug, Default)]
pub(super) struct Restore {
    /// The fence's sector among the visits.
    fence: u16,
    /// Entries taken over so far.
    entries: u32,
    /// Checksum of what [`Journal::end_restore`] says.
    sum: Crc32,
    /// Checksum of the last row: the answer to it may have been lost, and it comes again.
    last: Option<u32>,
    /// The rings that go on in a sector of their own already.
    moved: [bool; 3],
    ended: bool,
}

impl Journal {
    /// Begins to take a backup over. Until [`Self::end_restore`] nothing of it counts, and nothing else is noted. Gives the sectors that
    /// there are for visits beside those that stand; a computer leaves the oldest out where there are more.
    ///
    /// # Errors
    /// A [`JournalFault`]; the journal is as it was. [`JournalFault::Restoring`] if much of an earlier restore is still to be erased: ask again.
    pub fn begin_restore<F: NorFlash>(&mut self, flash: &mut F) -> Result<u16, JournalFault> {
        if self.restore.is_some() {
            // Begun anew: what stands behind the fence is in the way.
            *self = Self::open(flash, |_| {})?;
        }
        self.settle(flash)?;
        for ring in [&mut self.pairs, &mut self.marks, &mut self.visits] {
            ring.be_sure(flash)?;
        }
        let ends = Ends {
            pairs: self.pairs.next(),
            marks: self.marks.next(),
            visits: self.visits.next(),
        };
        self.visits.go_on_in_next(flash, Expendable::ALL)?;
        let fence = self.visits.head();
        self.restore = Some(Restore {
            fence,
            ..Restore::default()
        });
        Fence::put_up(flash, &self.visits, fence, ends)?;
        let taken = self.visits.age(self.visits.tail()).saturating_add(1);
        Ok(self.visits.count().saturating_sub(taken))
    }

    /// Whether a restore was begun since the journal was opened. Nothing is noted until it is opened again.
    #[must_use]
    pub const fn is_restoring(&self) -> bool {
        self.restore.is_some()
    }

    /// Whether a restore was begun and is not at its end.
    #[must_use]
    pub const fn is_half_restored(&self) -> bool {
        matches!(self.restore, Some(Restore { ended: false, .. }))
    }

    /// Takes a row of entries over from a backup, as they are, if they continue their ring: the first has the next number or a
    /// later one, or the ring is empty, and each a later number than the one before. What is missing in the backup stays missing
    /// here, and replay says so. Says whether it did; if it did not, nothing has changed. A row that comes twice is taken once.
    ///
    /// # Errors
    /// A [`JournalFault`] if the flash did not take them all: the restore is to be begun anew.
    pub fn take_over<F: NorFlash>(
        &mut self,
        flash: &mut F,
        name: RingName,
        entries: &[u8],
    ) -> Result<bool, JournalFault> {
        let Some(restore) = self.restore.as_mut().filter(|restore| !restore.ended) else {
            return Ok(false);
        };
        let ring = match name {
            RingName::Pairs => &mut self.pairs,
            RingName::Marks => &mut self.marks,
            RingName::Visits => &mut self.visits,
        };
        let mut this = Crc32::new();
        this.take(&[name as u8]);
        this.take(entries);
        let this = this.value();
        if restore.last == Some(this) {
            return Ok(true);
        }
        let Some((count, sum)) = continues(ring, name, entries, restore.sum) else {
            return Ok(false);
        };
        let moved = restore.moved.get_mut(name as usize);
        if let Some(moved) = moved.filter(|moved| !**moved) {
            // In a sector of its own, so that it can be erased without what stood before.
            let is_behind_fence = name == RingName::Visits;
            if is_behind_fence || !ring.is_empty() {
                ring.go_on_in_next(flash, Expendable::NONE)?;
            }
            *moved = true;
        }
        restore.last = None;
        ring.write(flash, entries, Expendable::NONE)?;
        restore.entries = restore.entries.saturating_add(count);
        (restore.sum, restore.last) = (sum, Some(this));
        Ok(true)
    }

    /// The end of the backup: if so many entries were taken over, and their checksum is this, they count from now on. The checksum goes over
    /// each entry in turn: a byte for its ring, as [`super::Place::part`] has it, two for its length, the more significant first, and itself.
    /// Says whether it was so.
    ///
    /// The state of the journal itself is learned by opening it anew.
    ///
    /// # Errors
    /// A [`JournalFault`]; the journal is as it was before, once it is opened anew.
    pub fn end_restore<F: NorFlash>(&mut self, flash: &mut F, entries: u32, sum: u32) -> Result<bool, JournalFault> {
        let Some(restore) = &mut self.restore else {
            return Ok(false);
        };
        if (restore.entries, restore.sum.value()) != (entries, sum) {
            return Ok(false);
        }
        if !restore.ended {
            Fence::take_down(flash, &self.visits, restore.fence)?;
            restore.ended = true;
            // It has served; if this fails, the next that is noted does it.
            let _ = sector::clear(flash, self.visits.start(restore.fence));
        }
        Ok(true)
    }

    /// Erases what a restore has left that was cut off, and the sector of its fence. Before that nothing may be noted.
    ///
    /// # Errors
    /// [`JournalFault::Restoring`] during a restore, and if there is more to erase than one call does.
    pub(super) fn settle<F: NorFlash>(&mut self, flash: &mut F) -> Result<(), JournalFault> {
        if self.restore.is_some() {
            return Err(JournalFault::Restoring);
        }
        let Some(Fence { sector: fence, ends }) = self.fence else {
            return Ok(());
        };
        if ends.is_some() {
            let mut erasures = ERASURES;
            for (ring, but) in [(&self.pairs, None), (&self.marks, None), (&self.visits, Some(fence))] {
                ring.clear_behind_head(flash, but, &mut erasures)?;
            }
        }
        sector::clear(flash, self.visits.start(fence))?;
        for ring in [&mut self.pairs, &mut self.marks, &mut self.visits] {
            ring.end = None;
        }
        self.fence = None;
        Ok(())
    }
}

/// How many entries a row has, and the checksum with them, if they continue the ring; `None` if they do not.
fn continues(ring: &Ring, name: RingName, entries: &[u8], mut sum: Crc32) -> Option<(u32, Crc32)> {
    let (mut next, mut any) = (ring.next(), ring.is_empty());
    let (mut rest, mut count) = (entries, 0_u32);
    while let Some((entry, behind)) = packed::split(rest) {
        let Ok(Entry { sequence, .. }) = codec::decode(entry) else {
            return None;
        };
        if sequence < next && !any {
            return None;
        }
        sum.take(&[name as u8]);
        sum.take(rest.get(..rest.len().saturating_sub(behind.len())).unwrap_or_default());
        count = count.saturating_add(1);
        (next, any, rest) = (Sequence(sequence.0.saturating_add(1)), false, behind);
    }
    (rest.is_empty() && count > 0).then_some((count, sum))
}

/// Most sectors erased in one go: three seconds at the flash's usual 45 ms, and a hang is ended after five.
const ERASURES: u16 = 64;
