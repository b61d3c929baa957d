//! Plugged into a computer, the scale is a small drive that can be read and not written.
//!
//! | file | what it does |
//! |---|---|
//! | `transfer` | commands, data and status over two USB endpoints |
//! | `scsi` | what a removable, write-protected disk answers |
//! | `directory` | the slots of a folder, short and long names |
//! | `volume` | sectors of a FAT volume, each computed when it is asked for |
//! | `drive` | when there is a volume, and when it is made anew |
//! | `files` | the files by name |
//! | `contents`, `pieces` | what they hold, piece by piece |
//! | `backup`, `check` | two of them |
//! | `index`, `window` | how a part of a text is found and written |
//! | `in_short` | hundreds of short pairs, measured quickly |
//! | `snapshot`, `roll`, `source` | the journal as it stood when the volume was made |
//!
//! Nothing of the volume is stored, and nothing that a host sends can change anything.

#![allow(
    clippy::cast_possible_truncation,
    reason = "fields have the widths that the standards give them, and the volume is laid out to fit; usize is u32 on the device"
)]

mod backup;
mod check;
mod contents;
mod directory;
#[allow(clippy::module_inception, reason = "it is the drive")]
mod drive;
mod files;
mod in_short;
mod index;
mod pieces;
mod roll;
mod scsi;
mod snapshot;
mod source;
#[cfg(test)]
mod tests;
mod transfer;
mod volume;
mod window;

pub use drive::Drive;
