//! What a command writes to disk: whole or not at all, and never over a file that it did not make.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use crate::failure::BadInput;
use crate::lines::read_small;

/// A file that is being written beside its place, and takes its name only when it is whole. Dropped before that, it is gone.
#[derive(Debug)]
pub struct NewFile {
    path: PathBuf,
    beside: PathBuf,
    file: BufWriter<File>,
}

impl NewFile {
    /// Begins a file that must not exist yet.
    ///
    /// # Errors
    /// [`BadInput`] if it is there already, or its folder does not take it.
    pub fn begin(path: &Path) -> Result<Self, BadInput> {
        if path.symlink_metadata().is_ok() {
            return Err(taken(path));
        }
        Self::beside(path)
    }

    /// Its end: from now on it is there under its name.
    ///
    /// # Errors
    /// [`BadInput`] if the rest cannot be written, or there is such a file meanwhile.
    pub fn finish(mut self) -> Result<(), BadInput> {
        self.on_disk()?;
        // A link, unlike a rename, never replaces a file. Not every file system has links.
        match fs::hard_link(&self.beside, &self.path) {
            Ok(()) => Ok(()),
            Err(_) if self.path.symlink_metadata().is_ok() => Err(taken(&self.path)),
            Err(_) => self.rename(),
        }
    }

    fn beside(path: &Path) -> Result<Self, BadInput> {
        let complain = |error: io::Error| BadInput::of_file(path, error);
        let name = path
            .file_name()
            .ok_or_else(|| BadInput::of_file(path, "is no name of a file"))?;
        let mut beside = std::ffi::OsString::from(".");
        beside.push(name);
        beside.push(format!(".{}.part", std::process::id()));
        let beside = path.with_file_name(beside);
        let file = BufWriter::new(File::create_new(&beside).map_err(complain)?);
        Ok(Self {
            path: path.to_owned(),
            beside,
            file,
        })
    }

    fn on_disk(&mut self) -> Result<(), BadInput> {
        let rest = self.file.flush().and_then(|()| self.file.get_ref().sync_all());
        rest.map_err(|error| BadInput::of_file(&self.path, error))
    }

    fn rename(&self) -> Result<(), BadInput> {
        fs::rename(&self.beside, &self.path).map_err(|error| BadInput::of_file(&self.path, error))
    }
}

impl Write for NewFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.file.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

impl Drop for NewFile {
    fn drop(&mut self) {
        // Under its own name it is there or has failed; this other name has served.
        let _ = fs::remove_file(&self.beside);
    }
}

/// Writes a file that must not exist yet, whole or not at all.
///
/// # Errors
/// [`BadInput`] if it is there already or cannot be written.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), BadInput> {
    write_with(path, |file| file.write_all(bytes))
}

/// The same, by a function that writes it bit by bit.
///
/// # Errors
/// The same.
pub fn write_with(path: &Path, write: impl FnOnce(&mut NewFile) -> io::Result<()>) -> Result<(), BadInput> {
    let mut file = NewFile::begin(path)?;
    write(&mut file).map_err(|error| BadInput::of_file(path, error))?;
    file.finish()
}

/// Writes a file whole or not at all, new or over an earlier one that holds `mark` and so was made by the same command.
///
/// # Errors
/// [`BadInput`] if something else is there, or it cannot be written.
pub fn write_again(path: &Path, mark: &str, bytes: &[u8]) -> Result<(), BadInput> {
    let is_ours = || read_small(path, LONGEST_OURS).is_ok_and(|text| text.contains(mark));
    if path.symlink_metadata().is_ok() && !is_ours() {
        return Err(taken(path));
    }
    let mut file = NewFile::beside(path)?;
    file.write_all(bytes).map_err(|error| BadInput::of_file(path, error))?;
    file.on_disk()?;
    file.rename()
}

/// Makes a folder for many files, or takes an empty one.
///
/// # Errors
/// [`BadInput`] if something lies in it, or it cannot be made.
pub fn new_folder(path: &Path) -> Result<(), BadInput> {
    let complain = |error| BadInput::of_file(path, error);
    fs::create_dir_all(path).map_err(complain)?;
    match fs::read_dir(path).map_err(complain)?.next() {
        None => Ok(()),
        Some(_) => Err(BadInput::of_file(path, "is not empty: name a new folder")),
    }
}

fn taken(path: &Path) -> BadInput {
    BadInput::of_file(path, "already exists and is never overwritten")
}

/// Far more than a command here writes into a file that it may write again.
const LONGEST_OURS: u64 = 1 << 24;
