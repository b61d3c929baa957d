//! Each text piece by piece.

use core::fmt;

use embedded_storage::nor_flash::NorFlash;

use super::contents::Contents;
use super::files::Text;
use super::snapshot::Snapshot;
use super::source::Source;
use super::window::Window;
use super::{backup, check};
use crate::journal::{Extent, Record, decode};
use crate::report::{Background, PARTS, Part, page, tables};

impl Text {
    /// How many pieces it has.
    pub(super) fn pieces(self, snapshot: &Snapshot) -> u16 {
        let sectors = |extent: Option<Extent>| extent.map_or(0, |extent| extent.sectors());
        let [_, _, visits] = snapshot.extents;
        match self {
            // The page's beginning, the links and the page's end; of each pair every part.
            Self::Page => {
                let pairs = u16::try_from(snapshot.roll.newest().len()).unwrap_or_default();
                pairs.saturating_mul(PARTS).saturating_add(3)
            }
            // The header, and each pair.
            Self::Sections | Self::Yarns => {
                let pairs = u16::try_from(snapshot.roll.listed().len()).unwrap_or_default();
                pairs.saturating_add(1)
            }
            // The header, and each sector.
            Self::Visits => sectors(visits).saturating_add(1),
            // Who the device is; each sector; the end.
            Self::Backup => {
                let all = snapshot.extents.into_iter().map(sectors);
                all.fold(2, u16::saturating_add)
            }
            Self::Check => 1,
        }
    }
}

impl Contents {
    /// Writes one piece of a text.
    pub(super) fn write<F: NorFlash>(
        &mut self,
        text: Text,
        piece: u16,
        out: &mut Window<'_>,
        source: &mut Source<'_, F>,
    ) {
        let first = piece.checked_sub(1);
        // A window that is full ends the piece: nothing of what would follow is wanted.
        let _: fmt::Result = match (text, first) {
            (Text::Page, _) => self.page(piece, out, source),
            (Text::Sections, None) => tables::sections_header(out, self.snapshot.language),
            (Text::Yarns, None) => tables::yarns_header(out, self.snapshot.language),
            (Text::Sections | Text::Yarns, Some(place)) => self.rows(text, place, out, source),
            (Text::Visits, None) => tables::visits_header(out, self.snapshot.language),
            (Text::Visits, Some(sector)) => self.visits(sector, out, source),
            (Text::Backup, _) => {
                backup::piece(&self.snapshot, piece, out, source);
                Ok(())
            }
            (Text::Check, _) => check::text(&self.snapshot, out),
        };
    }

    fn rows<F: NorFlash>(
        &mut self,
        text: Text,
        place: u16,
        out: &mut Window<'_>,
        source: &mut Source<'_, F>,
    ) -> fmt::Result {
        let Some(number) = self
            .snapshot
            .roll
            .listed()
            .get(usize::from(place))
            .map(|pair| pair.number)
        else {
            return Ok(());
        };
        if text == Text::Yarns && self.snapshot.roll.whole(number).is_none() {
            // Of a pair in short none is left.
            return Ok(());
        }
        if !self.have(number, source) {
            return Ok(());
        }
        let Some(pair) = &self.pair else { return Ok(()) };
        if text == Text::Yarns {
            tables::yarns(out, pair, self.snapshot.language)
        } else {
            tables::sections(out, pair, &self.snapshot.calendar, self.snapshot.language)
        }
    }

    fn visits<F: NorFlash>(&self, sector: u16, out: &mut Window<'_>, source: &mut Source<'_, F>) -> fmt::Result {
        let [_, _, visits] = self.snapshot.extents;
        let mut written = Ok(());
        source.entries(visits, sector, |bytes| {
            let Ok(entry) = decode(bytes) else { return };
            if let Record::Visit { gross, bowl, .. } = entry.record
                && written.is_ok()
            {
                let visit = tables::Visit {
                    at: entry.at,
                    gross,
                    bowl: bowl.map_or(0, |bowl| bowl.0),
                };
                written = tables::visit(out, &visit, &self.snapshot.calendar);
            }
        });
        written
    }

    fn page<F: NorFlash>(&mut self, piece: u16, out: &mut Window<'_>, source: &mut Source<'_, F>) -> fmt::Result {
        let language = self.snapshot.language;
        let newest = || self.snapshot.roll.newest();
        let Some(rest) = piece.checked_sub(2) else {
            if piece > 0 {
                page::begin_links(out, language)?;
                for listed in newest().iter().rev() {
                    let name = self.snapshot.name(listed.name, source);
                    page::link(out, listed.number, name.as_deref(), language)?;
                }
                return page::end_links(out);
            }
            page::begin(out, language)?;
            let shown = newest().len();
            let older = self.snapshot.roll.listed().len().saturating_sub(shown);
            let date = self.snapshot.calendar.date(self.snapshot.at);
            return page::on_the_drive(out, (shown, older), date, language);
        };
        let (place, part) = (rest / PARTS, rest % PARTS);
        let from_the_end = newest().len().checked_sub(usize::from(place).saturating_add(1));
        let number = from_the_end
            .and_then(|place| newest().get(place))
            .map(|listed| listed.number);
        let Some(number) = number else {
            return page::end(out, language);
        };
        if !self.have(number, source) {
            return Ok(());
        }
        let Some(pair) = &self.pair else { return Ok(()) };
        let background = Background {
            history: &self.snapshot.history,
            contrast: &self.snapshot.contrast,
            calendar: &self.snapshot.calendar,
            language,
        };
        Part::nth(part).map_or(Ok(()), |part| page::part(out, pair, part, &background))
    }
}
