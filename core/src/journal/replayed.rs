//! What reading the journal gives.

use super::Entry;

/// What was found next, oldest first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Replayed<'e> {
    /// An intact entry.
    Entry(&'e Entry),
    /// Entries are missing or damaged before what comes next.
    Gap {
        /// How many, as far as their numbers tell; 0 if only their order is wrong.
        missing: u32,
    },
    /// Behind the last entry stands one that cannot be read: its writing was cut off before it was confirmed, or it was
    /// damaged since.
    Unfinished,
}
