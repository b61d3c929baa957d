//! Reading the whole journal, a sector at a time, for export and backup.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::numbers::Numbers;
use super::{Journal, JournalFault, Replayed, RingName};

/// A sector of the journal, in the order of reading: condensed pairs, marks and all else, visits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Place {
    ring: RingName,
    sector: u16,
}

impl Journal {
    /// Where reading begins.
    #[must_use]
    pub const fn first(&self) -> Option<Place> {
        Some(Place {
            ring: RingName::Pairs,
            sector: self.pairs.tail(),
        })
    }

    /// Gives the entries of one sector, oldest first, and where to read on; `None` at the end.
    ///
    /// What is older than the last checkpoint is given as it is found: numbers missing in it are reported for each sector
    /// by itself.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub fn read<F: NorFlash>(
        &self,
        flash: &mut F,
        place: Place,
        mut each: impl FnMut(Replayed<'_>),
    ) -> Result<Option<Place>, JournalFault> {
        let ring = match place.ring {
            RingName::Pairs => &self.pairs,
            RingName::Marks => &self.marks,
            RingName::Visits => &self.visits,
        };
        let mut numbers = Numbers::new(place.ring, None);
        ring.read(flash, place.sector, |bytes| {
            numbers.take(bytes, &mut each);
            ControlFlow::Continue(())
        })?;
        if place.sector != ring.head() {
            let sector = ring.after(place.sector);
            return Ok(Some(Place { sector, ..place }));
        }
        Ok(match place.ring {
            RingName::Pairs => Some(Place {
                ring: RingName::Marks,
                sector: self.marks.tail(),
            }),
            RingName::Marks => Some(Place {
                ring: RingName::Visits,
                sector: self.visits.tail(),
            }),
            RingName::Visits => None,
        })
    }
}
