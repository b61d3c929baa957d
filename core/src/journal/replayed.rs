//! What reading the journal gives.

use serde::{Deserialize, Serialize};

use super::Entry;

/// What was found next, oldest first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Replayed<'e> {
    /// An intact entry.
    Entry(&'e Entry),
    /// Entries are missing or damaged before what comes next.
    Gap {
        /// Of which kind.
        among: RingName,
        /// How many, as far as their numbers tell; 0 if only their order is wrong.
        missing: u32,
    },
    /// Behind the last entry of its kind stands something that cannot be read: a record whose writing was cut off before it
    /// was confirmed, or one that was damaged since. Where there is no entry at all: something that never was a journal.
    Unreadable {
        /// Of which kind.
        among: RingName,
    },
}

/// The parts of the journal, each numbered by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum RingName {
    /// Condensed pairs and their names.
    Pairs,
    /// Marks and all else that the state of the scale is made of.
    Marks,
    /// Visits of the pan, and the device's starts.
    Visits,
}
