//! A chip whose content outlives the program, in a file.

use std::fs::{File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::Path;

/// The file behind a chip.
#[derive(Debug)]
pub(super) struct Image(File);

impl Image {
    /// Opens or makes the file and reads as much as the chip holds; what the file lacks is blank.
    pub(super) fn open(path: &Path, capacity: usize) -> io::Result<(Self, Vec<u8>)> {
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)?;
        let mut bytes = Vec::new();
        (&file).take(capacity as u64).read_to_end(&mut bytes)?;
        bytes.resize(capacity, 0xFF);
        file.seek(SeekFrom::Start(0))?;
        file.write_all(&bytes)?;
        Ok((Self(file), bytes))
    }

    /// Writes what has changed.
    pub(super) fn write(&mut self, start: usize, bytes: &[u8]) -> io::Result<()> {
        self.0.seek(SeekFrom::Start(start as u64))?;
        self.0.write_all(bytes)
    }
}
