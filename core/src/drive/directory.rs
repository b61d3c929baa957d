//! Directories of a FAT volume: slots of 32 bytes, those of a long name before the one that counts (Microsoft FAT specification of 2005).

use super::scsi::SECTOR;

/// A date and a time as a directory holds them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct FatTime {
    date: u16,
    time: u16,
}

impl FatTime {
    /// 1 January 1980, the first day that can be written: for a device whose clock was not set.
    pub(super) const UNKNOWN: Self = Self {
        date: 1 << 5 | 1,
        time: 0,
    };

    /// A date from 1980 to 2107 and a time; days, months and years out of range become [`Self::UNKNOWN`].
    #[must_use]
    pub(super) const fn new([year, month, day]: [u16; 3], [hour, minute, second]: [u16; 3]) -> Self {
        let known = year >= 1980 && year <= 2107 && month >= 1 && month <= 12 && day >= 1 && day <= 31;
        if !known || hour > 23 || minute > 59 || second > 59 {
            return Self::UNKNOWN;
        }
        Self {
            date: year.saturating_sub(1980) << 9 | month << 5 | day,
            time: hour << 11 | minute << 5 | second >> 1,
        }
    }
}

/// The entry of a file or folder that begins at cluster `first` and holds `size` bytes.
pub(super) fn short_entry(name: &[u8; 11], attributes: u8, (first, size): (u32, u32), made: FatTime) -> [u8; 32] {
    let mut entry = [0; 32];
    let mut fields = Fields::of(&mut entry);
    let [time, date] = [made.time.to_le_bytes(), made.date.to_le_bytes()];
    fields.put(name);
    fields.put(&[attributes, 0, 0]);
    fields.put(&time);
    fields.put(&date);
    fields.put(&date); // last looked at
    fields.put(&[0, 0]);
    fields.put(&time);
    fields.put(&date);
    fields.put(&(first as u16).to_le_bytes());
    fields.put(&size.to_le_bytes());
    entry
}

/// One of the entries that hold a long name, thirteen letters each, behind the one for the end of the name.
pub(super) fn long_entry(name: &str, short: &[u8; 11], piece: usize, last: bool) -> [u8; 32] {
    let mut entry = [0; 32];
    let number = u8::try_from(piece.saturating_add(1)).unwrap_or(0);
    let checksum = short
        .iter()
        .fold(0_u8, |sum, byte| sum.rotate_right(1).wrapping_add(*byte));
    for (at, byte) in [
        (0, if last { number | 0x40 } else { number }),
        (11, LONG),
        (13, checksum),
    ] {
        if let Some(into) = entry.get_mut(at) {
            *into = byte;
        }
    }
    let from = piece.saturating_mul(LETTERS.len());
    for (at, place) in LETTERS.into_iter().zip(from..) {
        let letter = match name.as_bytes().get(place) {
            Some(&byte) => u16::from(byte),
            None if place == name.len() => 0,
            None => 0xFFFF,
        };
        if let Some(into) = entry.get_mut(at..at.saturating_add(2)) {
            into.copy_from_slice(&letter.to_le_bytes());
        }
    }
    entry
}

/// Fields one behind the other.
pub(super) struct Fields<'a> {
    rest: &'a mut [u8],
}

impl<'a> Fields<'a> {
    pub(super) const fn of(rest: &'a mut [u8]) -> Self {
        Self { rest }
    }

    pub(super) fn put(&mut self, bytes: &[u8]) {
        let rest = core::mem::take(&mut self.rest);
        if let Some((now, later)) = rest.split_at_mut_checked(bytes.len()) {
            now.copy_from_slice(bytes);
            self.rest = later;
        }
    }

    pub(super) fn skip_to_last(&mut self, bytes: usize) {
        let rest = core::mem::take(&mut self.rest);
        let from = rest.len().saturating_sub(bytes);
        self.rest = rest.get_mut(from..).unwrap_or_default();
    }
}

/// The slots of a directory of which one sector is wanted.
pub(super) struct Slots<'a> {
    first: u32,
    slot: u32,
    out: &'a mut [u8; SECTOR],
}

impl<'a> Slots<'a> {
    /// From this slot of the directory on.
    pub(super) const fn from(first: u32, out: &'a mut [u8; SECTOR]) -> Self {
        Self { first, slot: 0, out }
    }

    /// The directory's next slot.
    pub(super) fn put(&mut self, entry: &[u8; 32]) {
        let within = self
            .slot
            .checked_sub(self.first)
            .and_then(|slot| usize::try_from(slot).ok());
        let slots = self.out.as_chunks_mut::<32>().0;
        if let Some(into) = within.and_then(|slot| slots.get_mut(slot)) {
            *into = *entry;
        }
        self.slot = self.slot.saturating_add(1);
    }
}

/// Directory entries of a sector.
pub(super) const SLOTS: u32 = SECTOR as u32 / 32;

pub(super) const READ_ONLY: u8 = 0x01;
pub(super) const HIDDEN: u8 = 0x02;
pub(super) const LABEL: u8 = 0x08;
pub(super) const FOLDER: u8 = 0x10;
const LONG: u8 = 0x0F;

/// Where the letters of a long name stand in its entries.
pub(super) const LETTERS: [usize; 13] = [1, 3, 5, 7, 9, 14, 16, 18, 20, 22, 24, 28, 30];
