//! The journal: append-only records on flash; the state of the scale is what replaying them gives.

mod blocking;
mod codec;
mod condense;
mod fault;
mod layout;
mod record;
mod replayed;
mod ring;
mod sector;
mod standing;
mod store;
mod whole;

pub use codec::{DecodeFault, MAX_ENCODED, SCHEMA, decode, encode};
pub use condense::{SectionUse, condense};
pub use fault::JournalFault;
pub use record::{BowlNumber, Entry, Fibre, Label, Language, Named, Record, Sequence, Setting, StartCause, Weight};
pub use replayed::Replayed;
pub use store::Journal;
pub use whole::Place;
