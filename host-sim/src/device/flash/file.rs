//! A chip whose content outlives the program, in a file.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::Path;

use crate::failure::BadInput;
use crate::files;
use crate::lines::read_bytes;

/// The file behind a chip.
#[derive(Debug)]
pub(super) struct Image(File);

impl Image {
    /// Opens the image of a chip of this size, or makes a blank one where there is no such file.
    ///
    /// # Errors
    /// [`BadInput`] for a file of another size, which is left as it is, or one that cannot be read and written.
    pub(super) fn open(path: &Path, capacity: usize) -> Result<(Self, Vec<u8>), BadInput> {
        let complain = |error: io::Error| BadInput::of_file(path, error);
        if let Err(error) = fs::metadata(path)
            && error.kind() == io::ErrorKind::NotFound
        {
            files::write_new(path, &vec![0xFF; capacity])?;
        }
        let bytes = read_bytes(path, capacity as u64)?;
        if bytes.len() != capacity {
            let reason = format!("is no image of a flash chip of {capacity} bytes, and is left as it is");
            return Err(BadInput::of_file(path, reason));
        }
        let file = OpenOptions::new().read(true).write(true).open(path).map_err(complain)?;
        Ok((Self(file), bytes))
    }

    /// Writes what has changed.
    pub(super) fn write(&mut self, start: usize, bytes: &[u8]) -> io::Result<()> {
        self.0.seek(SeekFrom::Start(start as u64))?;
        self.0.write_all(bytes)
    }
}
