//! What the files hold: texts of pieces, each of which can be made up again at any time.

use embedded_storage::nor_flash::NorFlash;

use super::files::{HOLDS, Holds, Text};
use super::index::Index;
use super::scsi::SECTOR;
use super::snapshot::Snapshot;
use super::source::Source;
use super::volume;
use super::window::Window;
use crate::app::App;
use crate::journal::Journal;
use crate::report::{Packed, Pair};

/// What the files of a volume hold.
#[derive(Clone, Debug, Default)]
pub(super) struct Contents {
    pub(super) snapshot: Snapshot,
    indices: [Index; Text::ALL.len()],
    /// The text whose pieces are measured; none while the journal is looked at.
    measuring: Option<usize>,
    /// The pair that was told last.
    pair: Option<Pair>,
}

impl Contents {
    /// Begins anew, with the scale as it is now.
    pub(super) fn begin(&mut self, app: &App, journal: Option<&Journal>) {
        self.snapshot.take(app, journal);
        self.measuring = None;
        self.pair = None;
    }

    /// Finds out a little more; `false` once all is known. A slice takes some milliseconds.
    pub(super) fn find_out<F: NorFlash>(&mut self, source: &mut Source<'_, F>) -> bool {
        let Some(place) = self.measuring else {
            if !self.snapshot.look(source) {
                for (index, text) in self.indices.iter_mut().zip(Text::ALL) {
                    index.begin(text.pieces(&self.snapshot));
                }
                self.measuring = Some(0);
            }
            return true;
        };
        let Some(&text) = Text::ALL.get(place) else {
            return false;
        };
        match self.index(text).next() {
            None => self.measuring = Some(place.saturating_add(1)),
            Some(piece) => {
                let mut window = Window::counting();
                self.write(text, piece, &mut window, source);
                let bytes = window.at();
                if let Some(index) = self.indices.get_mut(place) {
                    index.measured(bytes);
                }
            }
        }
        true
    }

    /// Bytes of a text, once all is known.
    pub(super) fn size(&self, text: Text) -> u32 {
        self.index(text).size()
    }

    fn index(&self, text: Text) -> &Index {
        // A text is its place among them.
        let [first, ..] = &self.indices;
        self.indices.get(text as usize).unwrap_or(first)
    }

    /// Makes a listed pair the one that is at hand.
    pub(super) fn have<F: NorFlash>(&mut self, number: u16, source: &mut Source<'_, F>) {
        if self.pair.as_ref().is_none_or(|pair| pair.number != number) {
            self.pair = Some(self.snapshot.pair(number, source));
        }
    }

    /// The pair at hand.
    pub(super) const fn pair(&self) -> Option<&Pair> {
        self.pair.as_ref()
    }

    /// Fills `out` with what a text holds from byte `from` on.
    fn read_text<F: NorFlash>(&mut self, text: Text, from: u32, out: &mut [u8; SECTOR], source: &mut Source<'_, F>) {
        let (mut piece, begin) = self.index(text).before(from);
        let pieces = self.index(text).pieces();
        let mut window = Window::new(begin, from, out);
        while piece < pieces && !window.is_full() {
            if let Some(index) = self.indices.get_mut(text as usize) {
                index.read(piece, window.at());
            }
            self.write(text, piece, &mut window, source);
            piece = piece.saturating_add(1);
        }
    }
}

/// The contents while the journal is at hand.
#[derive(Debug)]
pub(super) struct Reader<'a, 's, F> {
    pub(super) contents: &'a mut Contents,
    pub(super) source: &'a mut Source<'s, F>,
}

impl<F: NorFlash> volume::Contents for Reader<'_, '_, F> {
    fn read(&mut self, file: usize, offset: u32, out: &mut [u8; SECTOR]) {
        match HOLDS.get(file) {
            Some(&Holds::Text(text)) => self.contents.read_text(text, offset, out, self.source),
            Some(Holds::Manual) => {
                let from = usize::try_from(offset).unwrap_or(usize::MAX);
                let manual = Packed::manual(self.contents.snapshot.language);
                for (into, byte) in out.iter_mut().zip(manual.text().skip(from)) {
                    *into = byte;
                }
            }
            Some(Holds::Nothing) | None => {}
        }
    }
}
