//! Writing at the head of a ring, and making room for it.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::codec::{self, MAX_ENCODED};
use super::expendable::Expendable;
use super::ring::Ring;
use super::sector;
use super::{Entry, JournalFault, Record, Sequence};
use crate::units::Stamp;

impl Ring {
    /// Writes a record with the next number.
    ///
    /// # Errors
    /// [`JournalFault::Full`] if there is no room and nothing expendable, [`JournalFault::Unwritable`] for a record
    /// that cannot be encoded, [`JournalFault::Flash`] if the flash does not keep it.
    pub(super) fn append<F: NorFlash>(
        &mut self,
        flash: &mut F,
        at: Stamp,
        record: Record,
        expendable: Expendable,
    ) -> Result<Entry, JournalFault> {
        if self.unsure {
            self.learn_next(flash)?;
            self.unsure = false;
        }
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
        for _ in 0..ATTEMPTS {
            self.unsure = true;
            let is_there = sector::push(flash, self.start(self.head), bytes)?;
            self.unsure = false;
            if is_there {
                self.next = Sequence(self.next.0.saturating_add(1));
                return Ok(entry);
            }
            self.clear_ahead(flash, expendable)?;
            self.head = self.after(self.head);
            self.ready = false;
        }
        Err(JournalFault::Flash)
    }

    /// Learns the number to be written next from the head, after a write that may or may not have been done.
    fn learn_next<F: NorFlash>(&mut self, flash: &mut F) -> Result<(), JournalFault> {
        let mut next = self.next;
        self.read(flash, self.head, |bytes| {
            if let Some(number) = codec::sequence(bytes) {
                next = next.max(Sequence(number.0.saturating_add(1)));
            }
            ControlFlow::Continue(())
        })?;
        self.next = next;
        Ok(())
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
        if self.ready {
            return Ok(());
        }
        let ahead = self.after(self.head);
        let is_tail = ahead == self.tail && !self.bare;
        if is_tail && !self.is_expendable(flash, ahead, expendable)? {
            return Err(JournalFault::Full);
        }
        sector::clear(flash, self.start(ahead))?;
        if is_tail {
            self.tail = self.oldest(flash)?;
        }
        self.ready = true;
        Ok(())
    }

    /// Whether all entries of the tail have lower numbers than the mark: they have if the next sector's first one is not
    /// above it.
    fn is_expendable<F: NorFlash>(&self, flash: &mut F, tail: u16, mark: Expendable) -> Result<bool, JournalFault> {
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
}

/// Sectors that one append may try.
const ATTEMPTS: u8 = 3;
