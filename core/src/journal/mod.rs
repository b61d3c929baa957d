//! The journal: append-only records on flash; the state of the scale is what replaying them gives.
//!
//! # What it keeps
//! Three rings of flash sectors, each with its records in the order of their numbers:
//!
//! | ring | part | holds | when it is full |
//! |---|---|---|---|
//! | visits | 1/16 | steady loads, starts of the device | the oldest go |
//! | pairs | 1/4 | closed pairs in short ([`Record::Condensed`]), their names | nothing more is taken, until the oldest were let go |
//! | marks | the rest | weigh-ins, marks, plans, bowls, settings, calibration | the oldest go, once they are not needed |
//!
//! Marks are not needed once a *checkpoint* stands behind them: all that still stands (calibration, bowls, settings, labels)
//! was noted again after them, and every pair among them is condensed. A checkpoint is made before a pair is begun, when the
//! last one is far back. Replay begins at the checkpoint, so that it is short however full the journal is.
//!
//! # What holds at power loss
//! - A record that [`Journal::append`] has confirmed was read back, and is found by every later [`Journal::open`].
//! - A record that was not confirmed is there whole, or not at all.
//! - A backup is restored whole, or the journal is as it was (`restoring.rs`).
//! - Nothing is erased before what replaces it can be read, and nothing is written where anything stands.
//!
//! # What holds in old age
//! Whatever does not pass its checksum, its version and its number is not believed. A missing number is reported before the
//! next record ([`Replayed::Gap`]), an unreadable end at its place ([`Replayed::Unreadable`]); all else is still read.
//!
//! # What is asked of the flash
//! - Sectors of 4,096 bytes that erase to ones; bits programmed from one to zero; words written in parts.
//! - A write or erase that power cuts off leaves any mixture of old and new bits, but only in the bytes it was for.
//! - Reading twice gives the same. (Cells left half-charged by a cut could differ from reading to reading; the checksum
//!   then fails now and again, and what was written there was not confirmed.)

mod appending;
mod blocking;
mod capacity;
mod codec;
mod copying;
mod expendable;
mod export;
mod fault;
mod fence;
mod in_short;
mod layout;
mod open_pairs;
mod opening;
pub mod packed;
mod pair_event;
mod record;
mod replayed;
mod restoring;
mod ring;
mod room;
mod sector;
mod sequence_checker;
mod standing;
mod store;

pub use capacity::Usage;
pub use codec::{DecodeFault, MAX_ENCODED, SCHEMA, decode, encode};
pub use export::{Extent, Place};
pub use fault::JournalFault;
pub(crate) use in_short::InShort;
pub use open_pairs::OPEN_PAIRS;
pub use pair_event::{Gauge, PairEvent};
pub(crate) use pair_event::{of_a_pair, of_the_device};
pub use record::{BenchCheck, Entry, Language, Named, Record, Sequence, Setting, StartCause, SupplyKind};
pub use replayed::{Replayed, RingName};
pub use room::Room;
pub use sequence_checker::SequenceChecker;
pub use store::Journal;
