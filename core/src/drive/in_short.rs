//! The rows of pairs of which only a short record is left, measured many at a time: a full journal holds hundreds of them, and to read a
//! sector for each would take most of the time until the drive is there.

use embedded_storage::nor_flash::NorFlash;
use heapless::Vec;

use super::contents::Contents;
use super::files::Text;
use super::roll::Listed;
use super::source::{Source, Spot};
use super::window::Window;
use crate::journal::{Record, decode};
use crate::report::{Pair, tables};

/// Pairs that are measured at once: a sector holds some twenty, but a sample must not wait.
const AT_ONCE: usize = 8;

impl Contents {
    /// Bytes of the rows in a table of the pair of this piece and of those behind it whose short records stand in the same sector; none
    /// if the pair is to be measured by itself.
    pub(super) fn lengths_in_short<F: NorFlash>(
        &mut self,
        text: Text,
        piece: u16,
        source: &mut Source<'_, F>,
    ) -> Vec<u32, AT_ONCE> {
        let mut lengths = Vec::new();
        let (Text::Sections | Text::Yarns, Some(first)) = (text, piece.checked_sub(1)) else {
            return lengths;
        };
        let roll = &self.snapshot.roll;
        let behind = roll.listed().get(usize::from(first)..).unwrap_or_default();
        let sector = behind.first().map_or(0, |listed| listed.condensed.sector());
        let pairs = behind.iter().take(AT_ONCE).take_while(|listed| {
            roll.whole(listed.number).is_none() && !listed.name.is_there() && listed.condensed.sector() == sector
        });
        let pairs: Vec<Listed, AT_ONCE> = pairs.copied().collect();
        lengths.extend(pairs.iter().map(|_| 0));
        if text == Text::Yarns || pairs.is_empty() {
            // Of their yarns nothing is left.
            return lengths;
        }
        let [ring, ..] = self.snapshot.extents;
        let (at_hand, snapshot) = (&mut self.pair, &self.snapshot);
        let mut item: u16 = 0;
        source.entries(ring, sector, |bytes| {
            let spot = Spot::at(sector, item);
            item = item.saturating_add(1);
            let wanted = pairs
                .iter()
                .zip(&mut lengths)
                .find(|(listed, _)| listed.condensed == spot);
            if let Some((listed, length)) = wanted
                && spot.is_there()
                && let Ok(Record::Condensed { sections, .. }) = decode(bytes).map(|entry| entry.record)
            {
                let pair = at_hand.insert(Pair::condensed(listed.number, &sections));
                let mut window = Window::counting();
                // A window that only counts takes everything.
                let _ = tables::sections(&mut window, pair, &snapshot.calendar, snapshot.language);
                *length = window.at();
            }
        });
        lengths
    }
}
