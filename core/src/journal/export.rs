//! Reading the whole journal, a sector at a time, for export and backup.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use super::ring::Ring;
use super::{Journal, JournalFault, Replayed, RingName, Sequence, SequenceChecker, codec};

/// A sector of the journal, in the order of reading: condensed pairs, marks and all else, visits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Place {
    ring: RingName,
    sector: u16,
}

impl Place {
    /// The ring that it is in.
    #[must_use]
    pub const fn ring(self) -> RingName {
        self.ring
    }

    /// Its ring by number: 0 condensed pairs, 1 marks, 2 visits.
    #[must_use]
    pub const fn part(self) -> u8 {
        self.ring as u8
    }

    /// The sector of the ring, from 0.
    #[must_use]
    pub const fn sector(self) -> u16 {
        self.sector
    }
}

/// Where a ring stands: the sectors that hold entries, and the number that its next entry will have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Extent {
    ring: RingName,
    count: u16,
    tail: u16,
    head: u16,
    next: Sequence,
}

impl Extent {
    /// How many sectors it takes, the one that is being written included.
    #[must_use]
    pub fn sectors(&self) -> u16 {
        let behind = self.head.checked_sub(self.tail);
        let age = behind.unwrap_or_else(|| self.head.saturating_add(self.count).saturating_sub(self.tail));
        age.saturating_add(1)
    }

    /// The sector with that many older ones in the ring.
    #[must_use]
    pub fn place(&self, older: u16) -> Option<Place> {
        let sector = self.tail.checked_add(older)?.checked_rem(self.count)?;
        (older < self.sectors()).then_some(Place {
            ring: self.ring,
            sector,
        })
    }

    /// Number that the ring's next entry will have.
    #[must_use]
    pub const fn next(&self) -> Sequence {
        self.next
    }

    /// Whether all that stood here then still does, in the ring as it is `now`.
    #[must_use]
    pub const fn still_stands(&self, now: &Self) -> bool {
        self.tail == now.tail
    }
}

impl Journal {
    /// Where a ring stands now.
    #[must_use]
    pub const fn extent(&self, ring: RingName) -> Extent {
        let name = ring;
        let ring = self.ring(name);
        Extent {
            ring: name,
            count: ring.count(),
            tail: ring.tail(),
            head: ring.head(),
            next: ring.next(),
        }
    }

    /// Gives the encoded entries of a sector that stood there when `extent` was taken, oldest first; `older` says how many of its
    /// sectors come before.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub fn entries_of<F: NorFlash>(
        &self,
        flash: &mut F,
        extent: &Extent,
        older: u16,
        mut each: impl FnMut(&[u8]) -> ControlFlow<()>,
    ) -> Result<(), JournalFault> {
        let Some(place) = extent.place(older) else {
            return Ok(());
        };
        let since = |bytes: &[u8]| codec::sequence(bytes).is_some_and(|number| number >= extent.next);
        self.ring(place.ring).read(flash, place.sector, &mut |bytes| {
            if since(bytes) {
                ControlFlow::Break(())
            } else {
                each(bytes)
            }
        })
    }

    /// Number that the next record of the marks will have.
    #[must_use]
    pub const fn next(&self) -> Sequence {
        self.marks.next()
    }

    /// A sector by the number of its ring, or the oldest one of that ring; `None` if there is none such.
    #[must_use]
    pub fn place(&self, part: u8, sector: Option<u16>) -> Option<Place> {
        let names = [RingName::Pairs, RingName::Marks, RingName::Visits];
        let ring = *names.get(usize::from(part))?;
        let sectors = self.ring(ring);
        let sector = sector.unwrap_or(sectors.tail());
        (sector < sectors.count()).then_some(Place { ring, sector })
    }

    /// Gives the entries of one sector as they stand, encoded, oldest first, and the place behind it; `None` at the end.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub fn items<F: NorFlash>(
        &self,
        flash: &mut F,
        place: Place,
        mut each: impl FnMut(&[u8]) -> ControlFlow<()>,
    ) -> Result<Option<Place>, JournalFault> {
        self.ring(place.ring).read(flash, place.sector, &mut |item| {
            // What has no number is no entry.
            codec::sequence(item).map_or(ControlFlow::Continue(()), |_| each(item))
        })?;
        Ok(self.behind(place))
    }

    const fn ring(&self, name: RingName) -> &Ring {
        match name {
            RingName::Pairs => &self.pairs,
            RingName::Marks => &self.marks,
            RingName::Visits => &self.visits,
        }
    }

    fn behind(&self, place: Place) -> Option<Place> {
        let ring = self.ring(place.ring);
        if place.sector != ring.head() {
            let sector = ring.after(place.sector);
            return Some(Place { sector, ..place });
        }
        let next = match place.ring {
            RingName::Pairs => RingName::Marks,
            RingName::Marks => RingName::Visits,
            RingName::Visits => return None,
        };
        Some(Place {
            ring: next,
            sector: self.ring(next).tail(),
        })
    }

    /// The rings behind whose last entry something stands that cannot be read, as [`Replayed::Unreadable`] says it: a bit for each, by the
    /// number of its part.
    ///
    /// # Errors
    /// [`JournalFault::Flash`] if the flash cannot be read.
    pub fn unreadable_ends<F: NorFlash>(&self, flash: &mut F) -> Result<u8, JournalFault> {
        let mut ends = 0;
        for ring in [&self.pairs, &self.marks, &self.visits] {
            let mut note = |replayed: Replayed<'_>| {
                if let Replayed::Unreadable { among } = replayed {
                    ends |= 1_u8.wrapping_shl(among as u32);
                }
            };
            ring.report_end(flash, &mut note)?;
        }
        Ok(ends)
    }

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
        let mut numbers = SequenceChecker::new(place.ring, None);
        self.items(flash, place, |bytes| {
            numbers.take(bytes, &mut each);
            ControlFlow::Continue(())
        })
    }
}
