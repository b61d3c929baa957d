//! A FAT16 volume whose sectors are computed when they are asked for (Microsoft FAT specification of 2005; Ecma-107 for the fields that
//! both have).
//!
//! Of its files only names and sizes are known here, found out once; each lies in one piece behind the one before it, so that the allocation
//! table follows from the sizes. There is no partition table: the volume begins with its boot sector, as on a diskette.

pub(super) use super::directory::FatTime;
use super::directory::{FOLDER, Fields, HIDDEN, LABEL, LETTERS, READ_ONLY, SLOTS, Slots, long_entry, short_entry};
use super::scsi::SECTOR;
use super::transfer::Filling;

/// Most files and folders of a volume.
pub(super) const FILES: usize = 16;

/// A file or folder of the volume.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct File {
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
pub(super) enum Kind {
    /// A file for people.
    Shown,
    /// A file for the computer, which its user does not see.
    Hidden,
    /// A folder for the computer, which its user does not see.
    HiddenFolder,
}

/// The folder in which something stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// The first one.
    Root,
    /// The hidden folder; there is one at most.
    Folder,
}

/// What the volume's files hold.
pub(super) trait Contents {
    /// Fills `out` with what file number `file` holds from `offset` on, a multiple of 512 bytes, or with some of it.
    fn read(&mut self, file: usize, offset: u32, out: &mut Filling);
}

/// What was found out when the volume was made: sizes and beginnings, and nothing of the contents.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Volume {
    files: &'static [File],
    label: &'static [u8; 11],
    serial: u32,
    made: FatTime,
    size: [u32; FILES],
    /// First cluster of each; 0 for what is empty.
    first: [u16; FILES],
    clusters: u16,
}

impl Volume {
    /// A volume with these files, at most [`FILES`] of them, of these sizes in bytes; a folder's is ignored. `None` if they do not fit.
    #[must_use]
    pub(super) fn new(
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
    pub(super) fn sectors(&self) -> u32 {
        self.data().saturating_add(u32::from(self.clusters))
    }

    /// Fills `out` with a sector, or with some of it where its contents take another turn.
    pub(super) fn read(&self, sector: u32, contents: &mut impl Contents, out: &mut Filling) {
        let table = RESERVED..RESERVED.saturating_add(TABLES.saturating_mul(self.table_sectors()));
        if sector == 0 {
            self.boot(&mut out.bytes);
        } else if table.contains(&sector) {
            let within = sector.saturating_sub(RESERVED).checked_rem(self.table_sectors());
            let first = within.unwrap_or(0).saturating_mul(ENTRIES);
            for (entry, cluster) in out.bytes.chunks_exact_mut(2).zip(first..) {
                entry.copy_from_slice(&self.table_entry(cluster).to_le_bytes());
            }
        } else if sector < self.data() {
            let first = sector.saturating_sub(table.end).saturating_mul(SLOTS);
            self.directory(Place::Root, first, &mut out.bytes);
        } else {
            let cluster = sector.saturating_sub(self.data()).saturating_add(FIRST_CLUSTER.into());
            let Some((place, file, first)) = self.file_at(cluster) else {
                return;
            };
            let within = cluster.saturating_sub(first);
            match file.kind {
                Kind::HiddenFolder => self.directory(Place::Folder, within.saturating_mul(SLOTS), &mut out.bytes),
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
            .zip(0..FILES)
            .map(|((file, (&size, &first)), place)| {
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
        let mut fields = Fields::of(out);
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
        let mut slots = Slots::from(first, out);
        match place {
            Place::Root => slots.put(&short_entry(self.label, LABEL, (0, 0), self.made)),
            Place::Folder => {
                let own = self.things().find(|(_, file, ..)| file.kind == Kind::HiddenFolder);
                let own = own.map_or(0, |(_, _, first, _)| first);
                slots.put(&short_entry(b".          ", FOLDER, (own, 0), self.made));
                slots.put(&short_entry(b"..         ", FOLDER, (0, 0), self.made));
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
                slots.put(&long_entry(file.name, file.short, piece, last));
            }
            let attributes = match file.kind {
                Kind::Shown => READ_ONLY,
                Kind::Hidden => READ_ONLY | HIDDEN,
                Kind::HiddenFolder => HIDDEN | FOLDER,
            };
            slots.put(&short_entry(file.short, attributes, (first, size), self.made));
        }
    }
}

/// Sectors before the first table.
const RESERVED: u32 = 1;
/// Copies of the allocation table: two, as everybody has.
const TABLES: u32 = 2;
/// Entries of the first directory, long names included: the usual number.
const ROOT_ENTRIES: u16 = 512;
const ROOT_SECTORS: u32 = ROOT_ENTRIES as u32 / SLOTS;
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
