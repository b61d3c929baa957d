//! Where the files' contents come from: the journal as it stood when the volume was made.

use core::ops::ControlFlow;

use embedded_storage::nor_flash::NorFlash;

use crate::journal::{Extent, Journal};

/// The journal on its flash.
#[derive(Debug)]
pub(super) struct Source<'a, F> {
    pub(super) journal: Option<&'a Journal>,
    pub(super) flash: &'a mut F,
    /// A pair was read, which is work enough for a turn: what it was wanted for is made in the next.
    pub(super) is_spent: bool,
}

impl<'a, F: NorFlash> Source<'a, F> {
    /// For one turn of the loop.
    pub(super) const fn new(journal: Option<&'a Journal>, flash: &'a mut F) -> Self {
        Self {
            journal,
            flash,
            is_spent: false,
        }
    }

    /// Gives the encoded entries of a ring's sector with that many older ones, as they stood when `extent` was taken.
    pub(super) fn entries(&mut self, extent: Option<Extent>, older: u16, mut each: impl FnMut(&[u8])) {
        self.walk(extent, older, &mut |entry| {
            each(entry);
            ControlFlow::Continue(())
        });
    }

    /// The entry at one place of a ring. What stands behind it is not read.
    pub(super) fn entry(&mut self, extent: Option<Extent>, spot: Spot, mut found: impl FnMut(&[u8])) {
        let mut before = spot.item;
        self.walk(extent, spot.sector.into(), &mut |bytes| {
            let Some(left) = before.checked_sub(1) else {
                found(bytes);
                return ControlFlow::Break(());
            };
            before = left;
            ControlFlow::Continue(())
        });
    }

    fn walk(&mut self, extent: Option<Extent>, older: u16, each: &mut dyn FnMut(&[u8]) -> ControlFlow<()>) {
        if let Some((journal, extent)) = self.journal.zip(extent) {
            // What cannot be read is not there: the check's text tells of it.
            let _ = journal.entries_of(self.flash, &extent, older, each);
        }
    }
}

/// The place of an entry in a ring: the sector by the number of older ones, and which entry of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    sector: u8,
    item: u8,
}

impl Spot {
    /// No place.
    pub(super) const NONE: Self = Self {
        sector: u8::MAX,
        item: u8::MAX,
    };

    /// A place; none if it is beyond what can be said in two bytes.
    pub(super) fn at(sector: u16, item: u16) -> Self {
        match (u8::try_from(sector), u8::try_from(item)) {
            (Ok(sector), Ok(item)) if item < u8::MAX => Self { sector, item },
            _ => Self::NONE,
        }
    }

    /// The sector by the number of older ones; of no place one that no ring has.
    pub(super) const fn sector(self) -> u16 {
        self.sector as u16
    }

    /// Whether it is a place.
    pub(super) fn is_there(self) -> bool {
        self != Self::NONE
    }
}
