//! What a checkpoint copies: the records of every pair that is open, under the numbers that they had at first.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;
use heapless::Vec;

use super::codec::{self, MAX_ENCODED};
use super::open_pairs::CarriedOn;
use super::{Journal, JournalFault, Record, Sequence, packed};
use crate::units::Stamp;

impl Journal {
    /// Notes all records before `end` that belong to open pairs once more. Where one is damaged, that something is missing is noted in
    /// its place.
    pub(super) fn copy_open_pairs<F: NorFlash>(
        &mut self,
        flash: &mut F,
        at: Stamp,
        end: Sequence,
    ) -> Result<(), JournalFault> {
        let open = self.open.clone();
        if !open.any() {
            return Ok(());
        }
        let (mut sector, last) = (self.begin(), self.marks.head());
        let mut next = self.from.map(|(from, _)| from);
        let (mut begun_last, mut carried) = (0, CarriedOn::new());
        loop {
            let (row, is_whole) = self.read_from(flash, sector, next, end)?;
            let mut rest = row.as_slice();
            while let Some((bytes, behind)) = packed::split(rest) {
                rest = behind;
                let number = codec::sequence(bytes).unwrap_or(end);
                let entry = codec::decode(bytes);
                if next.is_some_and(|next| next != number) || entry.is_err() {
                    self.note(flash, at, Record::Lost { count: 1 })?;
                }
                next = Some(Sequence(number.0.saturating_add(1)));
                let Ok(entry) = entry else { continue };
                if let Record::PairBegun { pair, .. } = entry.record {
                    begun_last = pair.max(begun_last);
                }
                let noted_at = entry.at;
                if let Some(copy) = open.copy_of(entry, begun_last, &mut carried) {
                    self.note(flash, noted_at, copy)?;
                }
            }
            match (is_whole, sector == last) {
                (true, true) => return Ok(()),
                (true, false) => sector = self.marks.after(sector),
                (false, _) => {}
            }
        }
    }

    /// Entries of a sector from number `next` to before `end`, as many as fit in a row, and whether these are all.
    fn read_from<F: NorFlash>(
        &self,
        flash: &mut F,
        sector: u16,
        next: Option<Sequence>,
        end: Sequence,
    ) -> Result<(Vec<u8, ROW>, bool), JournalFault> {
        let (mut row, mut is_whole) = (Vec::new(), true);
        self.marks.read(flash, sector, &mut |bytes| {
            let wanted =
                codec::sequence(bytes).filter(|&number| number < end && next.is_none_or(|next| number >= next));
            if wanted.is_some() && packed::put(&mut row, bytes).is_err() {
                is_whole = false;
                return ControlFlow::Break(());
            }
            ControlFlow::Continue(())
        })?;
        Ok((row, is_whole))
    }
}

/// Bytes read at once: one entry at least.
const ROW: usize = 1_024;

const _: () = assert!(ROW >= MAX_ENCODED + 2);
