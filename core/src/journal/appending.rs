//! Writing at the head of a ring, and making room for it.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;
use heapless::Vec;

use super::codec::{self, MAX_ENCODED};
use super::expendable::Expendable;
use super::ring::Ring;
use super::sector;
use super::{Entry, JournalFault, Record, Sequence, packed};
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
        self.be_sure(flash)?;
        let entry = Entry {
            sequence: self.next,
            at,
            record,
        };
        let mut buffer = [0; MAX_ENCODED];
        let mut row = Vec::<u8, { MAX_ENCODED + 2 }>::new();
        packed::put(&mut row, codec::encode(&entry, &mut buffer)?)?;
        self.write(flash, &row, expendable)?;
        Ok(entry)
    }

    /// Writes a row of encoded entries with ascending numbers, the first of which is the next or later, and reads them back.
    ///
    /// # Errors
    /// As for [`Self::append`]; the first few may be there.
    pub(super) fn write<F: NorFlash>(
        &mut self,
        flash: &mut F,
        mut row: &[u8],
        expendable: Expendable,
    ) -> Result<(), JournalFault> {
        if self.bare {
            sector::clear(flash, self.start(self.head))?;
            self.bare = false;
        }
        let mut attempts = ATTEMPTS;
        loop {
            self.unsure = true;
            let unread = sector::push(flash, self.start(self.head), row)?;
            self.unsure = false;
            while let Some((entry, behind)) = packed::split(row)
                && row.len() > unread.len()
            {
                let number = codec::sequence(entry).unwrap_or(self.next);
                self.next = Sequence(number.0.saturating_add(1));
                (row, attempts) = (behind, ATTEMPTS);
            }
            if row.is_empty() {
                return Ok(());
            }
            attempts = attempts.saturating_sub(1);
            if attempts == 0 {
                return Err(JournalFault::Flash);
            }
            self.clear_ahead(flash, expendable)?;
            self.head = self.after(self.head);
            self.ready = false;
        }
    }

    /// Learns the number to be written next from the head, after a write that may or may not have been done.
    pub(super) fn be_sure<F: NorFlash>(&mut self, flash: &mut F) -> Result<(), JournalFault> {
        if !self.unsure {
            return Ok(());
        }
        let mut next = self.next;
        self.read(flash, self.head, &mut |bytes| {
            if let Some(number) = codec::sequence(bytes) {
                next = next.max(Sequence(number.0.saturating_add(1)));
            }
            ControlFlow::Continue(())
        })?;
        (self.next, self.unsure) = (next, false);
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

    /// Moves the head on to the next sector, or to its first if there is no entry yet, and makes it blank.
    ///
    /// # Errors
    /// As for [`Self::clear_ahead`].
    pub(super) fn go_on_in_next<F: NorFlash>(
        &mut self,
        flash: &mut F,
        expendable: Expendable,
    ) -> Result<(), JournalFault> {
        if self.bare {
            self.bare = false;
            return sector::clear(flash, self.start(self.head));
        }
        self.clear_ahead(flash, expendable)?;
        self.head = self.after(self.head);
        self.ready = false;
        Ok(())
    }

    /// Makes the sectors blank that hold nothing of the ring, but for one. Counts down how many may be erased.
    ///
    /// # Errors
    /// [`JournalFault::Restoring`] if there are more; [`JournalFault::Flash`] if one will not go blank.
    pub(super) fn clear_behind_head<F: NorFlash>(
        &self,
        flash: &mut F,
        but: Option<u16>,
        erasures: &mut u16,
    ) -> Result<(), JournalFault> {
        for sector in 0..self.count() {
            let is_ours = !self.bare && self.age(sector) <= self.age(self.tail);
            if is_ours || Some(sector) == but || sector::is_blank(flash, self.start(sector))? {
                continue;
            }
            *erasures = erasures.checked_sub(1).ok_or(JournalFault::Restoring)?;
            sector::clear(flash, self.start(sector))?;
        }
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
