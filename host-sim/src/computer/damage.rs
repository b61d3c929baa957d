//! What a journal lacks, as far as the numbers of its records tell; said after whatever was made of it.

use std::fmt;

use yarn_scale_core::journal::{Record, Replayed, RingName, Sequence, StartCause};

use super::backup::Backup;
use crate::failure::Failure;

/// What is missing in the rings of a journal.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Damage {
    /// Every place, in the order of reading.
    pub places: Vec<Place>,
}

/// A place where something is missing or cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// In which part of the journal.
    pub among: RingName,
    /// Records missing there; `None` where something stands that cannot be read.
    pub missing: Option<u32>,
    /// The record before it; 0 at the beginning.
    pub behind: Sequence,
}

impl Damage {
    /// Looks through a backup.
    #[must_use]
    pub fn of(backup: &Backup) -> Self {
        let mut damage = Self::default();
        let (mut behind, mut last_start) = (None, false);
        let mut before_restoring = Vec::new();
        backup.replay(|replayed| match replayed {
            Replayed::Entry(entry) => {
                let is_start = matches!(entry.record, Record::Started(_));
                if entry.record == Record::Started(StartCause::Restored) {
                    // Visits were restored behind the scale's own starts: their numbers go on where the backup's did.
                    damage.places.retain(|place| !before_restoring.contains(place));
                }
                (behind, last_start) = (Some(entry.sequence), is_start);
            }
            Replayed::Gap { among, missing } => {
                let place = Place {
                    among,
                    missing: Some(missing),
                    behind: behind.unwrap_or_default(),
                };
                if among == RingName::Visits && last_start {
                    before_restoring.push(place);
                }
                damage.places.push(place);
            }
            Replayed::Unreadable { among } => damage.places.push(Place {
                among,
                missing: None,
                behind: behind.unwrap_or_default(),
            }),
        });
        damage.places.extend(backup.dead_sectors.iter().map(|&among| Place {
            among,
            missing: None,
            behind: Sequence(0),
        }));
        damage
    }

    /// Nothing is missing.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.places.is_empty()
    }

    /// What is missing in a part of the journal.
    pub fn among(&self, ring: RingName) -> impl Iterator<Item = &Place> {
        self.places.iter().filter(move |place| place.among == ring)
    }

    /// Says so, if something is missing: after the output, in the exit code and on standard error.
    ///
    /// # Errors
    /// [`Failure::Unmet`] with what is missing.
    pub fn told(&self) -> Result<(), Failure> {
        if self.is_none() {
            return Ok(());
        }
        Err(Failure::Unmet(format!(
            "the journal is damaged: {self}; what is beside it is marked as doubtful"
        )))
    }
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut before = "";
        for (ring, name) in PARTS {
            let missing: u32 = self
                .among(ring)
                .filter_map(|place| place.missing)
                .map(|count| count.max(1))
                .sum();
            let unreadable = self.among(ring).filter(|place| place.missing.is_none()).count();
            if missing > 0 {
                write!(f, "{before}{missing} missing or out of order among the {name}")?;
                before = ", ";
            }
            if unreadable > 0 {
                write!(f, "{before}{unreadable} unreadable among the {name}")?;
                before = ", ";
            }
        }
        Ok(())
    }
}

/// The parts of a journal, and what they are called.
pub(super) const PARTS: [(RingName, &str); 3] = [
    (RingName::Pairs, "finished pairs"),
    (RingName::Marks, "marks"),
    (RingName::Visits, "weighings"),
];
