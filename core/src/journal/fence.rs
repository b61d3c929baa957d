//! The fence: an item in a sector of its own among the visits. As long as it stands whole, what lies behind it was being restored and does
//! not count.
//!
//! It is put up before the first restored entry is written. The last step of a restore makes its checksum zero, in one write: whatever a
//! power cut leaves of that write, the checksum is either as it was or wrong, and everything restored counts as nothing or as a whole.
//! A sector that held a fence is made blank before anything else is noted, so that a cell which the cut left half-charged can bring none back.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;
use heapless::Vec;

use super::ring::Ring;
use super::sector::{self, padded};
use super::{JournalFault, Sequence, packed};

/// A sector that holds a fence, or held one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fence {
    /// Its sector among the visits.
    pub(super) sector: u16,
    /// The numbers with which the restored entries begin; `None` once it is down.
    pub(super) ends: Option<Ends>,
}

/// Where the journal ended before: the numbers of the next pair in short, mark and visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ends {
    pub(super) pairs: Sequence,
    pub(super) marks: Sequence,
    pub(super) visits: Sequence,
}

impl Ends {
    fn item(self) -> [u8; ITEM] {
        let [a, b, c, d] = self.pairs.0.to_le_bytes();
        let [e, f, g, h] = self.marks.0.to_le_bytes();
        let [i, j, k, l] = self.visits.0.to_le_bytes();
        [TAG, a, b, c, d, e, f, g, h, i, j, k, l]
    }

    fn of(item: &[u8]) -> Option<Self> {
        let &[TAG, a, b, c, d, e, f, g, h, i, j, k, l] = item else {
            return None;
        };
        let number = |bytes| Sequence(u32::from_le_bytes(bytes));
        Some(Self {
            pairs: number([a, b, c, d]),
            marks: number([e, f, g, h]),
            visits: number([i, j, k, l]),
        })
    }
}

impl Fence {
    /// Looks for one among the visits.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub(super) fn find<F: NorFlash>(flash: &mut F, visits: &Ring) -> Result<Option<Self>, JournalFault> {
        let mut found = None;
        for sector in 0..visits.count() {
            let start = visits.start(sector);
            let mut tag = [0];
            let place = start.saturating_add(padded::<F>(1)).saturating_add(HEADER);
            flash.read(place, &mut tag).map_err(|_| JournalFault::Flash)?;
            if tag == [TAG] {
                let ends = whole(flash, start)?;
                let fence = Self { sector, ends };
                if ends.is_some() {
                    return Ok(Some(fence));
                }
                found = Some(fence);
            }
        }
        Ok(found)
    }

    /// Puts one up in a blank sector of the visits.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash does not keep it.
    pub(super) fn put_up<F: NorFlash>(
        flash: &mut F,
        visits: &Ring,
        sector: u16,
        ends: Ends,
    ) -> Result<(), JournalFault> {
        let mut row = Vec::<u8, { ITEM + 2 }>::new();
        packed::put(&mut row, &ends.item())?;
        let start = visits.start(sector);
        let unread = sector::push(flash, start, &row)?;
        if unread.is_empty() && whole(flash, start)? == Some(ends) {
            Ok(())
        } else {
            Err(JournalFault::Flash)
        }
    }

    /// Takes the one in this sector down: from now on what lies behind it counts.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if it still stands.
    pub(super) fn take_down<F: NorFlash>(flash: &mut F, visits: &Ring, sector: u16) -> Result<(), JournalFault> {
        let start = visits.start(sector);
        let zeros = [0; CHECKSUM];
        let zeros = zeros.get(..padded::<F>(4) as usize).ok_or(JournalFault::Unsuitable)?;
        sector::program(flash, start.saturating_add(padded::<F>(1)), zeros)?;
        match whole(flash, start)? {
            None => Ok(()),
            Some(_) => Err(JournalFault::Flash),
        }
    }
}

/// What the fence in a sector says, if it stands whole.
fn whole<F: NorFlash>(flash: &mut F, start: u32) -> Result<Option<Ends>, JournalFault> {
    let mut ends = None;
    sector::read(flash, start, &mut |item| {
        ends = Ends::of(item);
        ControlFlow::Break(())
    })?;
    Ok(ends)
}

/// First byte of a fence: no record begins with it.
const TAG: u8 = 0xB1;

/// Bytes of a fence: the tag, and three numbers.
const ITEM: usize = 1 + 3 * 4;

/// Bytes of the storage library's header in front of an item, whose first four are its checksum.
const HEADER: u32 = 8;

/// Most bytes that are made zero: a checksum, as long as the flash's words allow.
const CHECKSUM: usize = 8;
