//! Lines of a text file from outside, one at a time, in bounded memory whatever the file holds.

use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

use crate::failure::{BadInput, quoted};

/// Reads a file line by line.
#[derive(Debug)]
pub struct Lines<R> {
    reader: R,
    file: PathBuf,
    number: u64,
    buffer: Vec<u8>,
}

impl Lines<BufReader<File>> {
    /// Opens a file.
    ///
    /// # Errors
    /// [`BadInput`] if it cannot be opened.
    pub fn open(file: &Path) -> Result<Self, BadInput> {
        Ok(Self::new(BufReader::with_capacity(1 << 16, open(file)?), file))
    }
}

impl<R: BufRead> Lines<R> {
    /// Reads from `reader`; complaints name `file`.
    pub fn new(reader: R, file: &Path) -> Self {
        Self {
            reader,
            file: file.to_owned(),
            number: 0,
            buffer: Vec::with_capacity(LONGEST),
        }
    }

    /// The next line without its end, or `None` at the end of the file. A byte-order mark before the first is dropped.
    ///
    /// # Errors
    /// [`BadInput`] for a line that is longer than [`LONGEST`] bytes, is not UTF-8, or cannot be read.
    pub fn next_line(&mut self) -> Result<Option<&str>, BadInput> {
        self.buffer.clear();
        let read = self
            .reader
            .by_ref()
            .take(LONGEST as u64 + 1)
            .read_until(b'\n', &mut self.buffer);
        self.number += 1;
        match read {
            Err(error) => return Err(self.complain(format!("cannot be read: {error}"))),
            Ok(0) => return Ok(None),
            Ok(_) => {}
        }
        if self.buffer.last() == Some(&b'\n') {
            self.buffer.pop();
        } else if self.buffer.len() > LONGEST {
            return Err(self.complain(format!("line is longer than {LONGEST} bytes")));
        }
        if self.buffer.last() == Some(&b'\r') {
            self.buffer.pop();
        }
        match std::str::from_utf8(&self.buffer) {
            Ok(line) if self.number == 1 => Ok(Some(line.strip_prefix('\u{feff}').unwrap_or(line))),
            Ok(line) => Ok(Some(line)),
            Err(_) => Err(BadInput::of_line(&self.file, self.number, "not UTF-8 text")),
        }
    }

    /// Checks that the first line is this header; blanks around a name do not count.
    ///
    /// # Errors
    /// [`BadInput`] if it is not, or if there is none.
    pub fn expect_header(&mut self, header: &str) -> Result<(), BadInput> {
        let found = match self.next_line()? {
            Some(line) if line.split(',').map(str::trim).eq(header.split(',')) => return Ok(()),
            Some(line) => format!("found {}", quoted(line)),
            None => "the file is empty".to_owned(),
        };
        Err(self.complain(format!("expected the header {header:?}, {found}")))
    }

    /// A complaint about the line read last.
    pub fn complain(&self, reason: impl std::fmt::Display) -> BadInput {
        BadInput::of_line(&self.file, self.number, reason)
    }

    /// Number of the line read last, from 1.
    pub fn number(&self) -> u64 {
        self.number
    }
}

/// Reads a whole small file as text.
///
/// # Errors
/// [`BadInput`] if it cannot be read, is longer than `most` bytes, or is not UTF-8.
pub fn read_small(file: &Path, most: u64) -> Result<String, BadInput> {
    String::from_utf8(read_bytes(file, most)?).map_err(|_| BadInput::of_file(file, "not UTF-8 text"))
}

/// Opens a regular file and nothing else: when and how much comes from a pipe or a device is unknown.
fn open(file: &Path) -> Result<File, BadInput> {
    // Asked before it is opened: opening a pipe waits for a writer.
    let about = std::fs::metadata(file).map_err(|error| unopened(file, &error))?;
    if about.is_dir() {
        return Err(BadInput::of_file(file, "is a folder, not a file"));
    }
    if !about.is_file() {
        return Err(BadInput::of_file(file, "is no regular file"));
    }
    File::open(file).map_err(|error| unopened(file, &error))
}

/// Reads a whole regular file that has at most `most` bytes.
///
/// # Errors
/// [`BadInput`] if it is another kind of file, is longer, or cannot be read.
pub fn read_bytes(file: &Path, most: u64) -> Result<Vec<u8>, BadInput> {
    let mut bytes = Vec::new();
    let read = open(file)?.take(most + 1).read_to_end(&mut bytes);
    read.map_err(|error| BadInput::of_file(file, format!("cannot be read: {error}")))?;
    if bytes.len() as u64 > most {
        return Err(BadInput::of_file(file, format!("longer than {most} bytes")));
    }
    Ok(bytes)
}

fn unopened(file: &Path, error: &std::io::Error) -> BadInput {
    BadInput::of_file(file, format!("cannot be opened: {error}"))
}

/// Longest line that is read, bytes: the formats here need less than 40.
pub const LONGEST: usize = 256;
