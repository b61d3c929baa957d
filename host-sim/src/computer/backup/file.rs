//! A backup: who the scale was, and every entry of its journal as it stood.
//!
//! The file is a line of text, then frames like those on the line to the scale (COBS, CRC, zero at the end): first the device, then
//! one frame an entry, ring by ring, oldest first, and at the end how many there were, so that a file that was cut is told.

use std::path::Path;

use serde::{Deserialize, Serialize};
use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Journal, MAX_ENCODED, Replayed, RingName, SequenceChecker};
use yarn_scale_core::link::{DeviceInfo, MAX_FRAME, decode, encode};
use yarn_scale_core::units::Milligrams;

use crate::device::flash::SimFlash;
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
}

/// A frame of the file.
#[allow(clippy::large_enum_variant, reason = "one at a time")]
#[derive(Serialize, Deserialize)]
enum Frame {
    Device(DeviceInfo),
    Entry(RingName, heapless::Vec<u8, MAX_ENCODED>),
    End(u32),
    Unreadable(RingName),
}

/// First line of the file.
const MAGIC: &[u8] = b"yarn-scale backup 1\n";

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
            let mut checker = SequenceChecker::new(ring, None);
            for (_, bytes) in self.entries.iter().filter(|(of, _)| *of == ring) {
                checker.take(bytes, &mut each);
            }
            if self.unreadable.contains(&ring) {
                each(Replayed::Unreadable { among: ring });
            }
        }
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
            let entry = entry.as_slice().try_into();
            let entry = entry.map_err(|_| BadInput::of_file(path, "an entry is too long"))?;
            frame(&Frame::Entry(*ring, entry));
        }
        for &ring in &self.unreadable {
            frame(&Frame::Unreadable(ring));
        }
        frame(&Frame::End(u32::try_from(self.entries.len()).unwrap_or(u32::MAX)));
        Ok(files::write_new(path, &bytes)?)
    }

    /// Reads a backup, or an image of the journal's flash.
    ///
    /// # Errors
    /// If the file is neither, or damaged, or not all there.
    pub fn read(path: &Path) -> Result<Self, Failure> {
        let bytes = read_bytes(path, LONGEST)?;
        match bytes.strip_prefix(MAGIC) {
            Some(frames) => Self::from_frames(frames).map_err(|reason| BadInput::of_file(path, reason).into()),
            None => Self::from_image(bytes)
                .ok_or_else(|| BadInput::of_file(path, "neither a backup nor an image of a journal").into()),
        }
    }

    fn from_frames(bytes: &[u8]) -> Result<Self, &'static str> {
        let mut backup = Self {
            device: None,
            entries: Vec::new(),
            unreadable: Vec::new(),
        };
        let mut frames = bytes.split(|&byte| byte == 0).filter(|frame| !frame.is_empty());
        for frame in frames.by_ref() {
            match decode(frame).map_err(|_| "the backup is damaged")? {
                Frame::Device(device) => backup.device = Some(device),
                Frame::Entry(ring, entry) => backup.entries.push((ring, entry.to_vec())),
                Frame::Unreadable(ring) => backup.unreadable.push(ring),
                Frame::End(count) if usize::try_from(count) == Ok(backup.entries.len()) => {
                    return if frames.next().is_none() {
                        Ok(backup)
                    } else {
                        Err("something stands behind the backup")
                    };
                }
                Frame::End(_) => return Err("the backup is not all there"),
            }
        }
        Err("the backup is not all there")
    }

    /// From the content of the journal's flash; `None` if that holds no journal.
    #[must_use]
    pub fn from_image(bytes: Vec<u8>) -> Option<Self> {
        if !bytes.len().is_multiple_of(4_096) {
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
        while let Some(here) = place {
            let each = |item: &[u8]| {
                entries.push((here.ring(), item.to_vec()));
                std::ops::ControlFlow::Continue(())
            };
            place = journal.items(&mut flash, here, each).ok()?;
        }
        (!entries.is_empty()).then_some(Self {
            device: None,
            entries,
            unreadable,
        })
    }
}
