//! Plugged into a computer, the scale is a small drive that can be read and not written.
//!
//! | file | what it does |
//! |---|---|
//! | `transfer` | commands, data and status over two USB endpoints |
//! | `scsi` | what a removable, write-protected disk answers |
//! | `directory` | the slots of a folder, short and long names |
//! | `volume` | sectors of a FAT volume, each computed when it is asked for |
//!
//! Nothing of the volume is stored, and nothing that a host sends can change anything.

#![allow(
    clippy::cast_possible_truncation,
    reason = "fields have the widths that the standards give them, and the volume is laid out to fit; usize is u32 on the device"
)]

mod directory;
pub mod scsi;
pub mod transfer;
pub mod volume;
