//! The parts of a backup's file: a line of text, then frames like those on the line.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::DeviceInfo;
use crate::journal::{MAX_ENCODED, RingName};

/// First line of the file.
pub const MAGIC: &[u8] = b"yarn-scale backup 1\n";

/// A frame of the file: first the device, then one for each entry, ring by ring, oldest first, and at the end how many there were, so that
/// a file that was cut is told.
#[allow(clippy::large_enum_variant, reason = "one at a time")]
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum BackupFrame {
    /// Who the scale was, where it is known.
    Device(DeviceInfo),
    /// An entry of a ring, encoded.
    Entry(RingName, Vec<u8, MAX_ENCODED>),
    /// How many entries there were.
    End(u32),
    /// Behind the last entry of this ring stands something that cannot be read.
    Unreadable(RingName),
}
