//! A ring of sectors: the newest entries at its head, the oldest at its tail, in the order of their numbers.
//!
//! Nothing but the entries says where head and tail are: the head is the sector that begins with the highest number. A
//! sector is made blank before the head moves on to it, so that garbage from a torn erase is never written over.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::codec::{self, MAX_ENCODED};
use super::sector::{self, SECTOR};
use super::{Entry, JournalFault, Replayed, RingName, Sequence, SequenceChecker};

/// One ring and where it stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ring {
    name: RingName,
    /// First byte of its first sector.
    base: u32,
    /// How many sectors it has, at least 3.
    count: u16,
    pub(super) head: u16,
    pub(super) tail: u16,
    /// Number of the entry to be written next.
    pub(super) next: Sequence,
    /// The head holds no entry of ours yet, and may hold anything else.
    pub(super) bare: bool,
    /// The sector behind the head is known to be blank.
    pub(super) ready: bool,
    /// A write failed in such a way that the entry may be there all the same.
    pub(super) unsure: bool,
    /// Entries with this number or a later one do not count: they were being restored.
    pub(super) end: Option<Sequence>,
}

impl Ring {
    /// The ring in these sectors, of which nothing is known yet.
    pub(super) fn new(name: RingName, first: u16, count: u16) -> Self {
        Self {
            name,
            base: u32::from(first).saturating_mul(SECTOR),
            count,
            head: 0,
            tail: 0,
            next: Sequence(1),
            bare: true,
            ready: false,
            unsure: false,
            end: None,
        }
    }

    /// Finds its head and its tail.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn find<F: NorFlash>(&mut self, flash: &mut F) -> Result<(), JournalFault> {
        let mut highest = Sequence::default();
        for sector in 0..self.count {
            if let Some(first) = self.first_number(flash, sector)?
                && first > highest
            {
                highest = first;
                self.head = sector;
                self.bare = false;
            }
        }
        self.tail = self.oldest(flash)?;
        Ok(())
    }

    /// The oldest sector with entries: the first one behind the head, going round.
    pub(super) fn oldest<F: NorFlash>(&self, flash: &mut F) -> Result<u16, JournalFault> {
        let mut sector = self.after(self.head);
        while sector != self.head && self.first_number(flash, sector)?.is_none() {
            sector = self.after(sector);
        }
        Ok(sector)
    }

    /// Reads from the beginning of `from` to the head, gives entries with at least the number `expected`, and reports what
    /// is missing between them. Learns the number of the entry to be written next.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn replay<F: NorFlash>(
        &mut self,
        flash: &mut F,
        from: u16,
        expected: Option<Sequence>,
        each: &mut dyn FnMut(Replayed<'_>),
    ) -> Result<(), JournalFault> {
        let mut numbers = SequenceChecker::new(self.name, expected);
        let mut sector = from;
        loop {
            self.read(flash, sector, &mut |bytes| {
                numbers.take(bytes, each);
                ControlFlow::Continue(())
            })?;
            if sector == self.head {
                break;
            }
            sector = self.after(sector);
        }
        self.next = self.next.max(numbers.next());
        Ok(())
    }

    /// Reports, and says, whether something unreadable stands at the end.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn report_end<F: NorFlash>(
        &self,
        flash: &mut F,
        each: &mut dyn FnMut(Replayed<'_>),
    ) -> Result<bool, JournalFault> {
        let unreadable = self.has_unreadable_end(flash)?;
        if unreadable {
            each(Replayed::Unreadable { among: self.name });
        }
        Ok(unreadable)
    }

    /// Whether something unreadable stands behind the last entry, where only a torn or a damaged one can be; or anywhere,
    /// if there is no entry.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    fn has_unreadable_end<F: NorFlash>(&self, flash: &mut F) -> Result<bool, JournalFault> {
        if self.bare {
            // A restore under way is no damage.
            let sectors = if self.end.is_none() { self.count } else { 0 };
            for sector in 0..sectors {
                if !sector::is_blank(flash, self.start(sector))? {
                    return Ok(true);
                }
            }
            return Ok(false);
        }
        // The last entry stands right before the place of the next one, if nothing is between.
        let mut last = heapless::Vec::<u8, MAX_ENCODED>::new();
        self.read(flash, self.head, &mut |bytes| {
            last = bytes.try_into().unwrap_or_default();
            ControlFlow::Continue(())
        })?;
        let mut there = [0; MAX_ENCODED];
        let there = there.get_mut(..last.len()).ok_or(JournalFault::Flash)?;
        let place = sector::used(flash, self.start(self.head))?.checked_sub(sector::padded::<F>(last.len()));
        let Some(place) = place else { return Ok(true) };
        flash
            .read(self.start(self.head).saturating_add(place), there)
            .map_err(|_| JournalFault::Flash)?;
        Ok(there != last.as_slice())
    }

    /// The sector that holds this number or the first one after it, looked for from the head back.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn sector_of<F: NorFlash>(&self, flash: &mut F, number: Sequence) -> Result<u16, JournalFault> {
        let mut sector = self.head;
        loop {
            let begins_before = self.first_number(flash, sector)?.is_some_and(|first| first <= number);
            if begins_before || sector == self.tail {
                return Ok(sector);
            }
            sector = self.before(sector);
        }
    }

    /// The entry with this number, if it is there and intact.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn entry<F: NorFlash>(&self, flash: &mut F, number: Sequence) -> Result<Option<Entry>, JournalFault> {
        let sector = self.sector_of(flash, number)?;
        let mut found = None;
        self.read(flash, sector, &mut |bytes| {
            if codec::sequence(bytes) != Some(number) {
                return ControlFlow::Continue(());
            }
            found = codec::decode(bytes).ok();
            ControlFlow::Break(())
        })?;
        Ok(found)
    }

    /// Bytes left in the head.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn room<F: NorFlash>(&self, flash: &mut F) -> Result<u32, JournalFault> {
        Ok(SECTOR.saturating_sub(sector::used(flash, self.start(self.head))?))
    }

    /// Gives each intact item of a sector, oldest first.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn read<F: NorFlash>(
        &self,
        flash: &mut F,
        sector: u16,
        each: &mut dyn FnMut(&[u8]) -> ControlFlow<()>,
    ) -> Result<(), JournalFault> {
        sector::read(
            flash,
            self.start(sector),
            &mut |item| match codec::sequence(item).zip(self.end) {
                Some((number, end)) if number >= end => ControlFlow::Continue(()),
                Some(_) | None => each(item),
            },
        )
    }

    pub(super) fn first_number<F: NorFlash>(
        &self,
        flash: &mut F,
        sector: u16,
    ) -> Result<Option<Sequence>, JournalFault> {
        let mut first = None;
        self.read(flash, sector, &mut |bytes| {
            first = codec::sequence(bytes);
            if first.is_some() {
                ControlFlow::Break(())
            } else {
                ControlFlow::Continue(())
            }
        })?;
        Ok(first)
    }

    /// Number of the entry to be written next.
    pub(super) const fn next(&self) -> Sequence {
        self.next
    }

    /// The sector being written.
    pub(super) const fn head(&self) -> u16 {
        self.head
    }

    /// The oldest sector with entries.
    pub(super) const fn tail(&self) -> u16 {
        self.tail
    }

    /// How many sectors it has.
    pub(super) const fn count(&self) -> u16 {
        self.count
    }

    /// How far back the head a sector is.
    pub(super) const fn age(&self, sector: u16) -> u16 {
        if sector <= self.head {
            self.head.saturating_sub(sector)
        } else {
            self.count.saturating_sub(sector).saturating_add(self.head)
        }
    }

    /// The sector so many back from the head, or the tail if it is nearer.
    pub(super) fn back(&self, sectors: u16) -> u16 {
        let mut sector = self.head;
        for _ in 0..sectors.min(self.age(self.tail)) {
            sector = self.before(sector);
        }
        sector
    }

    pub(super) const fn after(&self, sector: u16) -> u16 {
        let after = sector.saturating_add(1);
        if after >= self.count { 0 } else { after }
    }

    pub(super) const fn before(&self, sector: u16) -> u16 {
        match sector.checked_sub(1) {
            Some(before) => before,
            None => self.count.saturating_sub(1),
        }
    }

    /// Whether the next sector to be erased holds the oldest entries.
    pub(super) const fn is_round(&self) -> bool {
        !self.ready && !self.bare && self.after(self.head) == self.tail
    }

    /// Whether it has no entry yet.
    pub(super) const fn is_empty(&self) -> bool {
        self.bare
    }

    pub(super) fn start(&self, sector: u16) -> u32 {
        self.base.saturating_add(u32::from(sector).saturating_mul(SECTOR))
    }
}
