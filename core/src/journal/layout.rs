//! Which part of the flash holds what.

use super::JournalFault;
use super::sector::SECTOR;

/// Sectors of each ring, one behind the other: visits, pairs, marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Layout {
    /// The pan's visits and the device's starts; the oldest are overwritten.
    pub(super) visits: u16,
    /// Condensed pairs; the oldest are overwritten once they were let go.
    pub(super) pairs: u16,
    /// All else; the oldest is overwritten once its pair is condensed.
    pub(super) marks: u16,
}

impl Layout {
    /// Divides the flash: a sixteenth for visits, a quarter for pairs, the rest for marks.
    ///
    /// # Errors
    /// [`JournalFault::Unsuitable`] for less than [`LEAST`] sectors.
    pub(super) fn of(capacity: usize) -> Result<Self, JournalFault> {
        let sectors = u32::try_from(capacity).unwrap_or(u32::MAX) / SECTOR;
        let sectors = u16::try_from(sectors).unwrap_or(u16::MAX);
        if sectors < LEAST {
            return Err(JournalFault::Unsuitable);
        }
        // One sector is being written and one made blank ahead of time: the third still holds the latest visits.
        let visits = (sectors / 16).max(3);
        let pairs = sectors / 4;
        let marks = sectors.saturating_sub(visits).saturating_sub(pairs);
        Ok(Self { visits, pairs, marks })
    }
}

/// Fewest sectors of a journal.
pub(super) const LEAST: u16 = 12;
