//! A backup: who the scale was, and every entry of its journal as it stood.
//!
//! The file is a line of text, then frames like those on the line to the scale (COBS, CRC, zero at the end): first the device, then
//! one frame an entry, ring by ring, oldest first, and at the end how many there were, so that a file that was cut is told.

use std::fs;
use std::path::Path;

use serde::{Deserialize, Serialize};
use yarn_scale_core::journal::{Entry, Journal, MAX_ENCODED, RingName, decode as decode_entry, packed};
use yarn_scale_core::link::{DeviceInfo, MAX_FRAME, decode, encode};

use crate::device::flash::SimFlash;
use crate::failure::{BadInput, Failure};
use crate::files;

/// A backup.
#[derive(Clone, Debug, PartialEq)]
pub struct Backup {
    /// The scale, where it is known.
    pub device: Option<DeviceInfo>,
    /// The entries, encoded, ring by ring, oldest first.
    pub entries: Vec<(RingName, Vec<u8>)>,
}

/// A frame of the file.
#[allow(clippy::large_enum_variant, reason = "one at a time")]
#[derive(Serialize, Deserialize)]
enum Frame {
    Device(DeviceInfo),
    Entry(RingName, heapless::Vec<u8, MAX_ENCODED>),
    End(u32),
}

/// First line of the file.
const MAGIC: &[u8] = b"yarn-scale backup 1\n";

/// What the device has for its journal (`firmware/memory.x`).
const JOURNAL_SIZE: usize = 1 << 20;

/// A backup of a full journal of 1 MiB is smaller than this.
const LONGEST: u64 = 8 << 20;

impl Backup {
    /// The entries of a ring that this program understands.
    pub fn entries_of(&self, ring: RingName) -> impl Iterator<Item = Entry> + '_ {
        let of_ring = self.entries.iter().filter(move |(of, _)| *of == ring);
        of_ring.filter_map(|(_, bytes)| decode_entry(bytes).ok())
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
        frame(&Frame::End(u32::try_from(self.entries.len()).unwrap_or(u32::MAX)));
        Ok(files::write_new(path, &bytes)?)
    }

    /// Reads a backup, or an image of the journal's flash.
    ///
    /// # Errors
    /// If the file is neither, or damaged, or not all there.
    pub fn read(path: &Path) -> Result<Self, Failure> {
        let length = fs::metadata(path)
            .map_err(|error| BadInput::of_file(path, error))?
            .len();
        if length > LONGEST {
            return Err(BadInput::of_file(path, "too long for a backup").into());
        }
        let bytes = fs::read(path).map_err(|error| BadInput::of_file(path, error))?;
        match bytes.strip_prefix(MAGIC) {
            Some(frames) => Self::from_frames(frames).map_err(|reason| BadInput::of_file(path, reason).into()),
            None => Self::from_image(bytes)
                .ok_or_else(|| BadInput::of_file(path, "neither a backup nor an image of a journal").into()),
        }
    }

    /// Says whether a file that begins with these bytes means to be a backup.
    pub(in crate::computer) fn begins(bytes: &[u8]) -> bool {
        bytes.starts_with(MAGIC)
    }

    /// The flash of a blank scale that this was restored onto; `None` if the entries do not continue one another.
    #[must_use]
    pub fn laid_out(&self) -> Option<SimFlash> {
        let mut flash = SimFlash::blank(JOURNAL_SIZE);
        let mut journal = Journal::open(&mut flash, |_| {}).ok()?;
        for (ring, bytes) in &self.entries {
            let mut row = heapless::Vec::<u8, { MAX_ENCODED + 2 }>::new();
            packed::put(&mut row, bytes).ok()?;
            if !journal.take_over(&mut flash, *ring, &row).ok()? {
                return None;
            }
        }
        Some(flash)
    }

    fn from_frames(bytes: &[u8]) -> Result<Self, &'static str> {
        let mut backup = Self {
            device: None,
            entries: Vec::new(),
        };
        let mut frames = bytes.split(|&byte| byte == 0).filter(|frame| !frame.is_empty());
        for frame in frames.by_ref() {
            match decode(frame).map_err(|_| "the backup is damaged")? {
                Frame::Device(device) => backup.device = Some(device),
                Frame::Entry(ring, entry) => backup.entries.push((ring, entry.to_vec())),
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
        let journal = Journal::open(&mut flash, |_| {}).ok()?;
        let mut entries = Vec::new();
        let mut place = journal.place(0, None);
        while let Some(here) = place {
            let each = |item: &[u8]| {
                entries.push((here.ring(), item.to_vec()));
                std::ops::ControlFlow::Continue(())
            };
            place = journal.items(&mut flash, here, each).ok()?;
        }
        (!entries.is_empty()).then_some(Self { device: None, entries })
    }
}
