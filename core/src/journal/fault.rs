//! Why the journal did not take a record.

use serde::{Deserialize, Serialize};

/// Why a record is not in the journal. What was there before still is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum JournalFault {
    /// The flash did not do what it was told.
    Flash,
    /// No room is left: export, then begin a new journal.
    Full,
    /// The schema does not allow the record: too long, or the reserved one.
    Unwritable,
    /// A pair cannot be begun before the last one is condensed: its marks would be given up with nothing in their place.
    Uncondensed,
    /// The flash is too small for a journal, or its sectors have another size.
    Unsuitable,
    /// The pair is closed for good: its marks may have gone.
    Closed,
    /// A backup is being restored, or what is left of one that was cut off is being erased: nothing else is noted meanwhile.
    Restoring,
}
