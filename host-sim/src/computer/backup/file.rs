//! A backup: who the scale was, and every entry of its journal as it stood.
//!
//! The file is a line of text, then frames like those on the line to the scale (COBS, CRC, zero at the end): first the device, then
//! one frame an entry, ring by ring, oldest first, and at the end how many there were, so that a file that was cut is told.

use std::path::Path;

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Journal, Replayed, RingName, Sequence, SequenceChecker, decode as decode_entry};
use yarn_scale_core::link::{BackupFrame as Frame, DeviceInfo, MAGIC, MAX_FRAME, decode, encode};
use yarn_scale_core::units::Milligrams;

use crate::device::flash::{SECTOR, SimFlash};
use crate::failure::{BadInput, Failure};
use crate::files;
use crate::lines::read_bytes;

/// A backup.
#[derive(Clone, Debug, PartialEq)]
pub struct Backup {
    /// The scale, where it is known.
    pub device: Option<DeviceInfo>,
    /// The entries, encoded, ring by ring, oldest first.
    pub entries: Vec<(RingName, Vec<u8>)>,
    /// The rings behind whose last entry stands something that cannot be read: cut off in its writing, or damaged since.
    pub unreadable: Vec<RingName>,
    /// Of an image: where a sector holds something, and no record can be read.
    pub dead_sectors: Vec<RingName>,
}

/// The parts of a journal in the order in which the device reads them.
const RINGS: [RingName; 3] = [RingName::Pairs, RingName::Marks, RingName::Visits];

/// What a scale of which nothing is known can carry.
const USUAL_CAPACITY: Milligrams = Milligrams::from_grams(500);

/// Flash chips of such devices have 2 to 16 MiB, and a backup is not longer than the journal.
const LONGEST: u64 = 16 << 20;

impl Backup {
    /// Reads all of it, as the device reads its journal when it starts: ring by ring, with what is missing or cannot be read.
    pub fn replay(&self, mut each: impl FnMut(Replayed<'_>)) {
        for ring in RINGS {
            let mut checker = SequenceChecker::new(ring, self.begins(ring));
            for (_, bytes) in self.entries.iter().filter(|(of, _)| *of == ring) {
                checker.take(bytes, &mut each);
            }
            if self.unreadable.contains(&ring) {
                each(Replayed::Unreadable { among: ring });
            }
        }
    }

    /// The number that a ring ought to begin with, where that is known: one that has gone round begins with the first record of a
    /// sector, and the first sector held more records than this.
    fn begins(&self, ring: RingName) -> Option<Sequence> {
        let (_, first) = self.entries.iter().find(|(of, _)| *of == ring)?;
        let first = decode_entry(first).ok()?.sequence;
        (first.0 <= FEWEST_IN_A_SECTOR).then_some(Sequence(1))
    }

    /// What it adds up to.
    #[must_use]
    pub fn book(&self) -> Book {
        let mut book = self.blank_book();
        self.replay(|replayed| book.take(replayed));
        book.settle();
        book
    }

    /// The book of the scale that this is of, before anything was noted.
    pub(in crate::computer) fn blank_book(&self) -> Book {
        Book::new(self.device.as_ref().map_or(USUAL_CAPACITY, |device| device.capacity))
    }

    /// Writes it into a new file.
    ///
    /// # Errors
    /// If there is such a file already, or it cannot be written.
    pub fn write(&self, path: &Path) -> Result<(), Failure> {
        let bytes = self.to_bytes();
        let bytes = bytes.ok_or_else(|| BadInput::of_file(path, "an entry is too long"))?;
        Ok(files::write_new(path, &bytes)?)
    }

    /// The bytes of its file; `None` if an entry is too long for a frame.
    #[must_use]
    pub fn to_bytes(&self) -> Option<Vec<u8>> {
        let mut bytes = MAGIC.to_vec();
        let mut frame = |frame: &Frame| {
            let mut buffer = [0; MAX_FRAME];
            // An entry fits into an answer on the line, and so into a frame.
            if let Ok(encoded) = encode(frame, &mut buffer) {
                bytes.extend_from_slice(encoded);
            }
        };
        if let Some(device) = &self.device {
            frame(&Frame::Device(device.clone()));
        }
        for (ring, entry) in &self.entries {
            frame(&Frame::Entry(*ring, entry.as_slice().try_into().ok()?));
        }
        for &ring in &self.unreadable {
            frame(&Frame::Unreadable(ring));
        }
        frame(&Frame::End(u32::try_from(self.entries.len()).unwrap_or(u32::MAX)));
        Some(bytes)
    }

    /// Reads a backup, or an image of the journal's flash.
    ///
    /// # Errors
    /// If the file is neither, or damaged, or incomplete.
    pub fn read(path: &Path) -> Result<Self, Failure> {
        let bytes = read_bytes(path, LONGEST)?;
        Self::from_bytes(bytes).map_err(|reason| BadInput::of_file(path, reason).into())
    }

    /// Reads the content of such a file.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn from_bytes(bytes: Vec<u8>) -> Result<Self, &'static str> {
        match bytes.strip_prefix(MAGIC) {
            Some(frames) => Self::from_frames(frames),
            None => Self::from_image(bytes).ok_or("neither a backup nor an image of a journal"),
        }
    }

    fn from_frames(bytes: &[u8]) -> Result<Self, &'static str> {
        let mut backup = Self {
            device: None,
            entries: Vec::new(),
            unreadable: Vec::new(),
            dead_sectors: Vec::new(),
        };
        let mut frames = bytes.split(|&byte| byte == 0).filter(|frame| !frame.is_empty());
        for frame in frames.by_ref() {
            match decode(frame).map_err(|_| "the backup is damaged")? {
                Frame::Device(device) if backup.device.is_none() && backup.entries.is_empty() => {
                    backup.device = Some(device);
                }
                Frame::Entry(ring, entry) => {
                    let place = |ring: RingName| RINGS.iter().position(|&of| of == ring);
                    let after = backup
                        .entries
                        .last()
                        .is_none_or(|(last, _)| place(*last) <= place(ring));
                    if !after || !backup.unreadable.is_empty() {
                        return Err(OUT_OF_ORDER);
                    }
                    backup.entries.push((ring, entry.to_vec()));
                }
                Frame::Device(_) => return Err(OUT_OF_ORDER),
                Frame::Unreadable(ring) => backup.unreadable.push(ring),
                Frame::End(count) if usize::try_from(count) == Ok(backup.entries.len()) => {
                    return if frames.next().is_none() {
                        Ok(backup)
                    } else {
                        Err("there is more data after the end of the backup")
                    };
                }
                Frame::End(_) => return Err("the backup is incomplete"),
            }
        }
        Err("the backup is incomplete")
    }

    /// From the content of the journal's flash; `None` if that holds no journal.
    #[must_use]
    pub fn from_image(bytes: Vec<u8>) -> Option<Self> {
        if !bytes.len().is_multiple_of(SECTOR) {
            return None;
        }
        let mut flash = SimFlash::with_content(bytes);
        let mut unreadable = Vec::new();
        let journal = Journal::open(&mut flash, |replayed| {
            if let Replayed::Unreadable { among } = replayed {
                unreadable.push(among);
            }
        })
        .ok()?;
        let mut entries = Vec::new();
        let mut place = journal.place(0, None);
        let mut written = written_sectors(flash.content());
        while let Some(here) = place {
            let before = entries.len();
            let each = |item: &[u8]| {
                entries.push((here.ring(), item.to_vec()));
                std::ops::ControlFlow::Continue(())
            };
            place = journal.items(&mut flash, here, each).ok()?;
            if entries.len() > before
                && let Some(place) = written.iter().position(|&ring| ring == here.ring())
            {
                written.swap_remove(place);
            }
        }
        (!entries.is_empty()).then_some(Self {
            device: None,
            entries,
            unreadable,
            dead_sectors: written,
        })
    }
}

/// The rings of the sectors that are not blank: a sixteenth of them for visits (3 at least), a quarter for pairs, the rest for marks.
fn written_sectors(content: &[u8]) -> Vec<RingName> {
    let sectors = content.chunks(SECTOR).enumerate();
    let count = content.len() / SECTOR;
    let (visits, pairs) = ((count / 16).max(3), count / 4);
    let written = sectors.filter(|(_, sector)| sector.iter().any(|&byte| byte != 0xFF));
    let ring = |place| match place {
        _ if place < visits => RingName::Visits,
        _ if place < visits + pairs => RingName::Pairs,
        _ => RingName::Marks,
    };
    written.map(|(place, _)| ring(place)).collect()
}

/// A sector holds more records than this, however long they are.
const FEWEST_IN_A_SECTOR: u32 = 8;

const OUT_OF_ORDER: &str = "the parts of the backup are out of order";
