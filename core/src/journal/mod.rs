//! The journal: append-only records on flash; the state of the scale is what replaying them gives.

mod record;

pub use record::{
    BowlNumber, Entry, Fibre, Label, Language, Named, Record, Sequence, Setting, StartCause, Units, Weight,
};
