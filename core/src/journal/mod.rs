//! The journal: append-only records on flash; the state of the scale is what replaying them gives.

mod fault;
mod record;

pub use fault::JournalFault;
pub use record::{BowlNumber, Entry, Fibre, Label, Language, Named, Record, Sequence, Setting, StartCause, Weight};
