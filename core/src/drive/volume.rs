//! A FAT16 volume whose sectors are computed when they are asked for (Microsoft FAT specification of 2005; Ecma-107 for the fields that
//! both have).
//!
//! Of its files only names and sizes are known here, found out once; each lies in one piece behind the one before it, so that the allocation
//! table follows from the sizes. There is no partition table: the volume begins with its boot sector, as on a diskette.

use super::scsi::SECTOR;

/// Most files and folders of a volume.
pub const FILES: usize = 16;

/// A file or folder of the volume.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct File {
    /// Its name as it is shown: ASCII, at most 39 characters.
    pub name: &'static str,
    /// Its name for a computer that knows no long ones: eight characters and three, in capitals.
    pub short: &'static [u8; 11],
    /// What it is.
    pub kind: Kind,
    /// Where it stands.
    pub place: Place,
}

/// What stands in a directory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A file for people.
    Shown,
    /// A file for the computer, which its user does not see.
    Hidden,
    /// A folder for the computer, which its user does not see.
    HiddenFolder,
}

/// The folder in which something stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The first one.
    Root,
    /// The hidden folder; there is one at most.
    Folder,
}

/// What the volume's files hold.
pub trait Contents {
    /// Fills `out`, which holds zeros, with what file number `file` holds from `offset` on, a multiple of 512 bytes.
    fn read(&mut self, file: usize, offset: u32, out: &mut [u8; SECTOR]);
}

/// A date and a time as a directory holds them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FatTime {
    date: u16,
    time: u16,
}

/// What was found out when the volume was made: sizes and beginnings, and nothing of the contents.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Volume {
    files: &'static [File],
    label: &'static [u8; 11],
    serial: u32,
    made: FatTime,
    size: [u32; FILES],
    /// First cluster of each; 0 for what is empty.
    first: [u16; FILES],
    clusters: u16,
}

impl FatTime {
    /// 1 January 1980, the first day that can be written: for a device whose clock was not set.
    pub const UNKNOWN: Self = Self {
        date: 1 << 5 | 1,
        time: 0,
    };

    /// A date from 1980 to 2107 and a time; days, months and years out of range become [`Self::UNKNOWN`].
    #[must_use]
    pub const fn new([year, month, day]: [u16; 3], [hour, minute, second]: [u16; 3]) -> Self {
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

impl Volume {
    /// A volume with these files, at most [`FILES`] of them, of these sizes in bytes; a folder's is ignored. `None` if they do not fit.
    #[must_use]
    pub fn new(
        files: &'static [File],
        sizes: &[u32],
        label: &'static [u8; 11],
        (serial, made): (u32, FatTime),
    ) -> Option<Self> {
        let mut volume = Self {
            files,
            label,
            serial,
            made,
            size: [0; FILES],
            first: [0; FILES],
            clusters: LEAST_CLUSTERS,
        };
        if files.len() > FILES || sizes.len() != files.len() {
            return None;
        }
        let mut next = FIRST_CLUSTER;
        let slots = volume.size.iter_mut().zip(&mut volume.first);
        for ((file, &bytes), (size, first)) in files.iter().zip(sizes).zip(slots) {
            let occupied = match file.kind {
                Kind::HiddenFolder => 1,
                Kind::Shown | Kind::Hidden => {
                    *size = bytes;
                    u16::try_from(bytes.div_ceil(SECTOR as u32)).ok()?
                }
            };
            if occupied > 0 {
                *first = next;
            }
            next = next.checked_add(occupied)?;
        }
        volume.clusters = next.saturating_sub(FIRST_CLUSTER).max(LEAST_CLUSTERS);
        (volume.clusters <= MOST_CLUSTERS).then_some(volume)
    }

    /// How many sectors it has.
    #[must_use]
    pub fn sectors(&self) -> u32 {
        self.data().saturating_add(u32::from(self.clusters))
    }

    /// Fills `out`, which holds zeros, with a sector.
    pub fn read(&self, sector: u32, contents: &mut impl Contents, out: &mut [u8; SECTOR]) {
        let table = RESERVED..RESERVED.saturating_add(TABLES.saturating_mul(self.table_sectors()));
        if sector == 0 {
            self.boot(out);
        } else if table.contains(&sector) {
            let within = sector.saturating_sub(RESERVED).checked_rem(self.table_sectors());
            let first = within.unwrap_or(0).saturating_mul(ENTRIES);
            for (entry, cluster) in out.chunks_exact_mut(2).zip(first..) {
                entry.copy_from_slice(&self.table_entry(cluster).to_le_bytes());
            }
        } else if sector < self.data() {
            let first = sector.saturating_sub(table.end).saturating_mul(SLOTS);
            self.directory(Place::Root, first, out);
        } else {
            let cluster = sector.saturating_sub(self.data()).saturating_add(FIRST_CLUSTER.into());
            let Some((place, file, first)) = self.file_at(cluster) else {
                return;
            };
            let within = cluster.saturating_sub(first);
            match file.kind {
                Kind::HiddenFolder => self.directory(Place::Folder, within.saturating_mul(SLOTS), out),
                Kind::Shown | Kind::Hidden => contents.read(place, within.saturating_mul(SECTOR as u32), out),
            }
        }
    }

    /// The first sector of the files' contents.
    fn data(&self) -> u32 {
        RESERVED
            .saturating_add(TABLES.saturating_mul(self.table_sectors()))
            .saturating_add(ROOT_SECTORS)
    }

    fn table_sectors(&self) -> u32 {
        u32::from(self.clusters)
            .saturating_add(FIRST_CLUSTER.into())
            .div_ceil(ENTRIES)
    }

    /// Each thing in the volume with its number, and its first cluster and the one behind its last.
    fn things(&self) -> impl Iterator<Item = (usize, &'static File, u32, u32)> {
        let sizes = self.size.iter().zip(&self.first);
        self.files
            .iter()
            .zip(sizes)
            .enumerate()
            .map(|(place, (file, (&size, &first)))| {
                let first = u32::from(first);
                let clusters = match file.kind {
                    Kind::HiddenFolder => 1,
                    Kind::Shown | Kind::Hidden => size.div_ceil(SECTOR as u32),
                };
                (place, file, first, first.saturating_add(clusters))
            })
    }

    fn file_at(&self, cluster: u32) -> Option<(usize, &'static File, u32)> {
        self.things()
            .find(|&(_, _, first, end)| first > 0 && (first..end).contains(&cluster))
            .map(|(place, file, first, _)| (place, file, first))
    }

    /// What the allocation table says of a cluster: the next one, the end of a file, or that it is free.
    fn table_entry(&self, cluster: u32) -> u16 {
        match cluster {
            0 => 0xFF00 | u16::from(MEDIA),
            1 => END,
            _ => self
                .things()
                .find(|&(_, _, first, end)| first > 0 && (first..end).contains(&cluster))
                .map_or(0, |(_, _, _, end)| {
                    let next = cluster.saturating_add(1);
                    if next == end {
                        END
                    } else {
                        u16::try_from(next).unwrap_or(END)
                    }
                }),
        }
    }

    fn boot(&self, out: &mut [u8; SECTOR]) {
        let sectors = self.sectors();
        let [few, many] = match u16::try_from(sectors) {
            Ok(few) => [u32::from(few), 0],
            Err(_) => [0, sectors],
        };
        let mut fields = Fields { rest: out };
        fields.put(&[0xEB, 0x3C, 0x90]); // a jump over what follows, to nothing
        fields.put(b"MSDOS5.0"); // what the specification recommends
        fields.put(&(SECTOR as u16).to_le_bytes());
        fields.put(&[1, RESERVED as u8, 0, TABLES as u8]); // sectors of a cluster, before the tables, tables
        fields.put(&ROOT_ENTRIES.to_le_bytes());
        fields.put(&(few as u16).to_le_bytes());
        fields.put(&[MEDIA]);
        fields.put(&(self.table_sectors() as u16).to_le_bytes());
        fields.put(&[32, 0, 16, 0, 0, 0, 0, 0]); // sectors of a track, heads, sectors before: of no meaning here
        fields.put(&many.to_le_bytes());
        fields.put(&[0x80, 0, 0x29]); // a disk; the three next fields are there
        fields.put(&self.serial.to_le_bytes());
        fields.put(self.label);
        fields.put(b"FAT16   ");
        fields.skip_to_last(2);
        fields.put(&[0x55, 0xAA]);
    }

    /// Sixteen slots of a directory from number `first`.
    fn directory(&self, place: Place, first: u32, out: &mut [u8; SECTOR]) {
        let mut page = Page { first, slot: 0, out };
        match place {
            Place::Root => page.put(&self.entry(self.label, LABEL, 0, 0)),
            Place::Folder => {
                let own = self.things().find(|(_, file, ..)| file.kind == Kind::HiddenFolder);
                let own = own.map_or(0, |(_, _, first, _)| first);
                page.put(&self.entry(b".          ", FOLDER, own, 0));
                page.put(&self.entry(b"..         ", FOLDER, 0, 0));
            }
        }
        let sizes = self.size.iter();
        for ((_, file, first, _), &size) in self
            .things()
            .zip(sizes)
            .filter(|((_, file, ..), _)| file.place == place)
        {
            let pieces = file.name.len().div_ceil(LETTERS.len());
            for piece in (0..pieces).rev() {
                let last = piece.saturating_add(1) == pieces;
                page.put(&long_entry(file, piece, last));
            }
            let attributes = match file.kind {
                Kind::Shown => READ_ONLY,
                Kind::Hidden => READ_ONLY | HIDDEN,
                Kind::HiddenFolder => HIDDEN | FOLDER,
            };
            page.put(&self.entry(file.short, attributes, first, size));
        }
    }

    fn entry(&self, name: &[u8; 11], attributes: u8, first: u32, size: u32) -> [u8; 32] {
        let mut entry = [0; 32];
        let mut fields = Fields { rest: &mut entry };
        let [time, date] = [self.made.time.to_le_bytes(), self.made.date.to_le_bytes()];
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
}

/// One of the entries that hold a long name, thirteen letters each, behind the one for the end of the name.
fn long_entry(file: &File, piece: usize, last: bool) -> [u8; 32] {
    let mut entry = [0; 32];
    let number = u8::try_from(piece.saturating_add(1)).unwrap_or(0);
    let checksum = file
        .short
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
        let letter = match file.name.as_bytes().get(place) {
            Some(&byte) => u16::from(byte),
            None if place == file.name.len() => 0,
            None => 0xFFFF,
        };
        if let Some(into) = entry.get_mut(at..at.saturating_add(2)) {
            into.copy_from_slice(&letter.to_le_bytes());
        }
    }
    entry
}

/// Fields one behind the other.
struct Fields<'a> {
    rest: &'a mut [u8],
}

impl Fields<'_> {
    fn put(&mut self, bytes: &[u8]) {
        let rest = core::mem::take(&mut self.rest);
        if let Some((now, later)) = rest.split_at_mut_checked(bytes.len()) {
            now.copy_from_slice(bytes);
            self.rest = later;
        }
    }

    fn skip_to_last(&mut self, bytes: usize) {
        let rest = core::mem::take(&mut self.rest);
        let from = rest.len().saturating_sub(bytes);
        self.rest = rest.get_mut(from..).unwrap_or_default();
    }
}

/// The slots of a directory of which one sector is wanted.
struct Page<'a> {
    first: u32,
    slot: u32,
    out: &'a mut [u8; SECTOR],
}

impl Page<'_> {
    fn put(&mut self, entry: &[u8; 32]) {
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

/// Sectors before the first table.
const RESERVED: u32 = 1;
/// Copies of the allocation table: two, as everybody has.
const TABLES: u32 = 2;
/// Entries of the first directory, long names included: the usual number.
const ROOT_ENTRIES: u16 = 512;
const ROOT_SECTORS: u32 = ROOT_ENTRIES as u32 / SLOTS;
/// Directory entries of a sector.
const SLOTS: u32 = SECTOR as u32 / 32;
/// Table entries of a sector.
const ENTRIES: u32 = SECTOR as u32 / 2;
/// Number of the first cluster.
const FIRST_CLUSTER: u16 = 2;
/// Below 4,085 clusters a volume counts as FAT12 and from 65,525 on as FAT32, whatever it says of itself; some count differently by a few,
/// hence sixteen more and less.
const LEAST_CLUSTERS: u16 = 4_101;
const MOST_CLUSTERS: u16 = 65_508;
/// Media descriptor of what is no diskette.
const MEDIA: u8 = 0xF8;
/// The last cluster of a file.
const END: u16 = 0xFFFF;

const READ_ONLY: u8 = 0x01;
const HIDDEN: u8 = 0x02;
const LABEL: u8 = 0x08;
const FOLDER: u8 = 0x10;
const LONG: u8 = 0x0F;

/// Where the letters of a long name stand in its entries.
const LETTERS: [usize; 13] = [1, 3, 5, 7, 9, 14, 16, 18, 20, 22, 24, 28, 30];
