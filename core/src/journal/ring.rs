//! A ring of sectors: the newest entries at its head, the oldest at its tail, in the order of their numbers.
//!
//! Nothing but the entries says where head and tail are: the head is the sector that begins with the highest number. A
//! sector is made blank before the head moves on to it, so that garbage from a torn erase is never written over.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::codec::{self, MAX_ENCODED};
use super::sector::{self, Pushed, SECTOR};
use super::{Entry, JournalFault, Record, Replayed, Sequence};
use crate::units::Stamp;

/// One ring and where it stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ring {
    /// First byte of its first sector.
    base: u32,
    /// How many sectors it has, at least 2.
    count: u16,
    head: u16,
    tail: u16,
    /// Number of the entry to be written next.
    next: Sequence,
    /// The head holds no entry of ours yet, and may hold anything else.
    bare: bool,
}

/// What tells entries that may be erased: those with a lower number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Expendable(pub(super) Sequence);

impl Expendable {
    /// Nothing may be erased.
    pub(super) const NONE: Self = Self(Sequence(0));
    /// The oldest may always be erased.
    pub(super) const ALL: Self = Self(Sequence(u32::MAX));
}

impl Ring {
    /// Finds head and tail of the ring in these sectors.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn find<F: NorFlash>(flash: &mut F, first: u16, count: u16) -> Result<Self, JournalFault> {
        let mut ring = Self {
            base: u32::from(first).saturating_mul(SECTOR),
            count,
            head: 0,
            tail: 0,
            next: Sequence(1),
            bare: true,
        };
        let mut highest = Sequence::default();
        for sector in 0..count {
            if let Some(first) = ring.first_number(flash, sector)?
                && first > highest
            {
                highest = first;
                ring.head = sector;
                ring.bare = false;
            }
        }
        ring.tail = ring.oldest(flash)?;
        Ok(ring)
    }

    /// The oldest sector with entries: the first one behind the head, going round.
    fn oldest<F: NorFlash>(&self, flash: &mut F) -> Result<u16, JournalFault> {
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
        mut each: impl FnMut(Replayed<'_>),
    ) -> Result<(), JournalFault> {
        let mut numbers = Numbers::from(expected);
        let mut sector = from;
        loop {
            self.read(flash, sector, |bytes| {
                numbers.take(bytes, &mut each);
                ControlFlow::Continue(())
            })?;
            if sector == self.head {
                break;
            }
            sector = self.after(sector);
        }
        self.next = self.next.max(numbers.expected.unwrap_or(Sequence(1)));
        if self.has_scraps(flash)? {
            each(Replayed::Unfinished);
        }
        Ok(())
    }

    /// Whether something unreadable stands behind the last entry, where only a torn or a damaged one can be.
    fn has_scraps<F: NorFlash>(&self, flash: &mut F) -> Result<bool, JournalFault> {
        let mut explained = sector::word::<F>();
        let mut trailing = false;
        self.read(flash, self.head, |bytes| {
            explained = explained.saturating_add(sector::footprint::<F>(bytes.len()));
            ControlFlow::Continue(())
        })?;
        trailing |= sector::used(flash, self.start(self.head))? > explained;
        Ok(trailing && !self.bare)
    }

    /// Writes a record with the next number.
    ///
    /// # Errors
    /// [`JournalFault::Full`] if there is no room and nothing expendable, [`JournalFault::TooLong`] for a record that
    /// cannot be encoded, [`JournalFault::Flash`] if the flash does not keep it.
    pub(super) fn append<F: NorFlash>(
        &mut self,
        flash: &mut F,
        at: Stamp,
        record: Record,
        expendable: Expendable,
    ) -> Result<Entry, JournalFault> {
        let entry = Entry {
            sequence: self.next,
            at,
            record,
        };
        let mut buffer = [0; MAX_ENCODED];
        let bytes = codec::encode(&entry, &mut buffer)?;
        if self.bare {
            sector::clear(flash, self.start(self.head))?;
            self.bare = false;
        }
        // Twice on a page that was spoilt, once on a new one.
        let mut spoilt = 0_u8;
        for _ in 0..ATTEMPTS {
            match sector::push(flash, self.start(self.head), bytes)? {
                Pushed::Whole => {
                    self.next = Sequence(self.next.0.saturating_add(1));
                    return Ok(entry);
                }
                Pushed::Spoilt if spoilt == 0 => spoilt = 1,
                Pushed::NoRoom | Pushed::Spoilt => {
                    self.clear_ahead(flash, expendable)?;
                    self.head = self.after(self.head);
                    spoilt = 0;
                }
            }
        }
        Err(JournalFault::Flash)
    }

    /// Makes the sector behind the head blank, so that the head can move on to it. Does nothing if it is.
    ///
    /// # Errors
    /// [`JournalFault::Full`] if it holds entries that are not expendable; [`JournalFault::Flash`] if it will not go blank.
    pub(super) fn clear_ahead<F: NorFlash>(
        &mut self,
        flash: &mut F,
        expendable: Expendable,
    ) -> Result<(), JournalFault> {
        let ahead = self.after(self.head);
        if ahead == self.tail && !self.bare {
            if !self.is_expendable(flash, ahead, expendable)? {
                return Err(JournalFault::Full);
            }
            sector::clear(flash, self.start(ahead))?;
            self.tail = self.oldest(flash)?;
            return Ok(());
        }
        sector::clear(flash, self.start(ahead))
    }

    /// Whether all entries of the tail have lower numbers than the mark: they have if the next sector's first one is not
    /// above it.
    fn is_expendable<F: NorFlash>(&self, flash: &mut F, tail: u16, mark: Expendable) -> Result<bool, JournalFault> {
        if mark == Expendable::NONE || tail == self.head {
            return Ok(false);
        }
        let mut sector = self.after(tail);
        loop {
            if let Some(first) = self.first_number(flash, sector)? {
                return Ok(first <= mark.0);
            }
            if sector == self.head {
                return Ok(false);
            }
            sector = self.after(sector);
        }
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
        self.read(flash, sector, |bytes| {
            if codec::sequence(bytes) != Some(number) {
                return ControlFlow::Continue(());
            }
            found = codec::decode(bytes).ok();
            ControlFlow::Break(())
        })?;
        Ok(found)
    }

    /// Gives each intact item of a sector, oldest first.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn read<F: NorFlash>(
        &self,
        flash: &mut F,
        sector: u16,
        each: impl FnMut(&[u8]) -> ControlFlow<()>,
    ) -> Result<(), JournalFault> {
        sector::read(flash, self.start(sector), each)
    }

    fn first_number<F: NorFlash>(&self, flash: &mut F, sector: u16) -> Result<Option<Sequence>, JournalFault> {
        let mut first = None;
        self.read(flash, sector, |bytes| {
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

    fn start(&self, sector: u16) -> u32 {
        self.base.saturating_add(u32::from(sector).saturating_mul(SECTOR))
    }
}

/// Follows the numbers of the entries that are read.
pub(super) struct Numbers {
    expected: Option<Sequence>,
    last: Option<Sequence>,
}

impl From<Option<Sequence>> for Numbers {
    fn from(expected: Option<Sequence>) -> Self {
        Self { expected, last: None }
    }
}

impl Numbers {
    pub(super) fn take(&mut self, bytes: &[u8], each: &mut impl FnMut(Replayed<'_>)) {
        let Some(number) = codec::sequence(bytes) else {
            return;
        };
        let expected = self.expected.unwrap_or(number);
        if number < expected {
            // Before where replay begins; or, behind an entry that was read, something that ought not to be there.
            if self.last.is_some() {
                each(Replayed::Gap { missing: 0 });
            }
            return;
        }
        let missing = number.0.saturating_sub(expected.0);
        if missing > 0 {
            each(Replayed::Gap { missing });
        }
        match codec::decode(bytes) {
            Ok(entry) => each(Replayed::Entry(&entry)),
            Err(_) => each(Replayed::Gap { missing: 1 }),
        }
        self.last = Some(number);
        self.expected = Some(Sequence(number.0.saturating_add(1)));
    }
}

/// Pushes that one append may try: a spoilt place, a spoilt rest of the sector, the next sector, and one more of each.
const ATTEMPTS: u8 = 6;
