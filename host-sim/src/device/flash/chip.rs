//! The chip itself.

use std::path::Path;

use embedded_storage::nor_flash::{ErrorType, NorFlash, NorFlashError, NorFlashErrorKind, ReadNorFlash};

use super::file::Image;
use crate::failure::BadInput;

use super::{Counts, Operation, Tear};

/// Bytes of a sector, the unit of erasing.
pub const SECTOR: usize = 4_096;

/// Bytes of a page, the most that one operation programs.
pub const PAGE: usize = 256;

/// A simulated NOR flash.
#[derive(Debug)]
pub struct SimFlash {
    bytes: Vec<u8>,
    image: Option<Image>,
    counts: Counts,
    erases: Vec<u32>,
    log: Option<Vec<Operation>>,
    cut: Option<(u64, Tear)>,
    powered: bool,
}

/// Why the chip did not do what it was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlashFault {
    /// Beyond the chip's end.
    OutOfBounds,
    /// Not whole sectors.
    NotAligned,
    /// Power has failed.
    PowerOff,
    /// The file behind it could not be written.
    File,
}

impl NorFlashError for FlashFault {
    fn kind(&self) -> NorFlashErrorKind {
        match self {
            Self::OutOfBounds => NorFlashErrorKind::OutOfBounds,
            Self::NotAligned => NorFlashErrorKind::NotAligned,
            Self::PowerOff | Self::File => NorFlashErrorKind::Other,
        }
    }
}

impl SimFlash {
    /// A blank chip of this many bytes, rounded down to whole sectors.
    #[must_use]
    pub fn blank(capacity: usize) -> Self {
        Self::with_content(vec![0xFF; capacity])
    }

    /// A chip that holds these bytes; what is beyond the last whole sector is dropped.
    #[must_use]
    pub fn with_content(mut bytes: Vec<u8>) -> Self {
        let sectors = bytes.len() / SECTOR;
        bytes.truncate(sectors * SECTOR);
        Self {
            bytes,
            image: None,
            counts: Counts::default(),
            erases: vec![0; sectors],
            log: None,
            cut: None,
            powered: true,
        }
    }

    /// A chip of this many bytes whose content is kept in a file, made blank if it does not exist.
    ///
    /// # Errors
    /// [`BadInput`] for a file of another size, or one that cannot be read and written.
    pub fn on_file(path: &Path, capacity: usize) -> Result<Self, BadInput> {
        let (image, bytes) = Image::open(path, capacity / SECTOR * SECTOR)?;
        Ok(Self {
            image: Some(image),
            ..Self::with_content(bytes)
        })
    }

    /// Another chip with the same content, counts and wear, in memory only, and without a log or a cut in store.
    #[must_use]
    pub fn copy(&self) -> Self {
        Self {
            counts: self.counts,
            erases: self.erases.clone(),
            powered: self.powered,
            ..Self::with_content(self.bytes.clone())
        }
    }

    /// What it holds.
    #[must_use]
    pub fn content(&self) -> &[u8] {
        &self.bytes
    }

    /// Turns one bit over, as age does.
    pub fn flip(&mut self, byte: usize, bit: u8) {
        self.bytes[byte] ^= 1 << bit;
    }

    /// How often what was done.
    #[must_use]
    pub const fn counts(&self) -> &Counts {
        &self.counts
    }

    /// Begins counting anew; the wear of the sectors stays.
    pub fn forget_counts(&mut self) {
        self.counts = Counts::default();
    }

    /// How often each sector was erased.
    #[must_use]
    pub fn wear(&self) -> &[u32] {
        &self.erases
    }

    /// Keeps a log of operations from now on.
    pub fn keep_log(&mut self) {
        self.log = Some(Vec::new());
    }

    /// The operations since [`Self::keep_log`].
    #[must_use]
    pub fn log(&self) -> &[Operation] {
        self.log.as_deref().unwrap_or_default()
    }

    /// Lets power fail in the operation after the next `operations` ones, and leave this.
    pub fn cut_after(&mut self, operations: u64, tear: Tear) {
        self.cut = Some((self.counts.operations() + operations, tear));
    }

    /// Whether power has failed. Until [`Self::power_on`] every call fails.
    #[must_use]
    pub const fn is_off(&self) -> bool {
        !self.powered
    }

    /// Brings power back, with no further cut in store. A chip that has power keeps its cut.
    pub fn power_on(&mut self) {
        if self.is_off() {
            self.powered = true;
            self.cut = None;
        }
    }

    fn range(&self, offset: u32, length: usize) -> Result<core::ops::Range<usize>, FlashFault> {
        let start = offset as usize;
        let end = start.checked_add(length).ok_or(FlashFault::OutOfBounds)?;
        if end > self.bytes.len() {
            return Err(FlashFault::OutOfBounds);
        }
        if self.powered {
            Ok(start..end)
        } else {
            Err(FlashFault::PowerOff)
        }
    }

    /// Does one operation, or as much of it as power allows.
    fn perform(&mut self, operation: Operation, wanted: &[u8]) -> Result<(), FlashFault> {
        let (start, erasing) = match operation {
            Operation::Erase { start } => (start as usize, true),
            Operation::Program { start, .. } => (start as usize, false),
        };
        let range = start..start + wanted.len();
        let tear = self.cut.filter(|&(at, _)| at == self.counts.operations());
        if let Some((_, tear)) = tear {
            self.powered = false;
            tear.apply(&mut self.bytes[range.clone()], wanted, erasing);
        } else {
            self.bytes[range.clone()].copy_from_slice(wanted);
        }
        if erasing {
            self.counts.erases += 1;
            self.erases[start / SECTOR] += 1;
        } else {
            self.counts.programs += 1;
            self.counts.bytes_programmed += wanted.len() as u64;
        }
        if let Some(log) = &mut self.log {
            log.push(operation);
        }
        if let Some(image) = &mut self.image {
            image.write(start, &self.bytes[range]).map_err(|_| FlashFault::File)?;
        }
        if self.powered {
            Ok(())
        } else {
            Err(FlashFault::PowerOff)
        }
    }
}

impl ErrorType for SimFlash {
    type Error = FlashFault;
}

impl ReadNorFlash for SimFlash {
    const READ_SIZE: usize = 1;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), FlashFault> {
        let range = self.range(offset, bytes.len())?;
        self.counts.reads += 1;
        self.counts.bytes_read += bytes.len() as u64;
        bytes.copy_from_slice(&self.bytes[range]);
        Ok(())
    }

    fn capacity(&self) -> usize {
        self.bytes.len()
    }
}

impl NorFlash for SimFlash {
    const WRITE_SIZE: usize = 1;
    const ERASE_SIZE: usize = SECTOR;

    fn erase(&mut self, from: u32, to: u32) -> Result<(), FlashFault> {
        let length = to.checked_sub(from).ok_or(FlashFault::OutOfBounds)? as usize;
        self.range(from, length)?;
        if !(from as usize).is_multiple_of(SECTOR) || !length.is_multiple_of(SECTOR) {
            return Err(FlashFault::NotAligned);
        }
        for start in (from..to).step_by(SECTOR) {
            self.perform(Operation::Erase { start }, &[0xFF; SECTOR])?;
        }
        Ok(())
    }

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), FlashFault> {
        self.range(offset, bytes.len())?;
        let mut start = offset;
        let mut rest = bytes;
        while !rest.is_empty() {
            let length = rest.len().min(PAGE - start as usize % PAGE);
            let (now, later) = rest.split_at(length);
            let there = &self.bytes[start as usize..start as usize + length];
            let wanted: Vec<u8> = there.iter().zip(now).map(|(there, now)| there & now).collect();
            self.counts.overwritten += wanted.iter().zip(now).filter(|(wanted, now)| wanted != now).count() as u64;
            let length = length as u32;
            self.perform(Operation::Program { start, length }, &wanted)?;
            start += length;
            rest = later;
        }
        Ok(())
    }
}
