//! What the files hold: texts of pieces, each of which can be made up again at any time.

use embedded_storage::nor_flash::NorFlash;

use super::files::{HOLDS, Holds, Text};
use super::index::Index;
use super::snapshot::Snapshot;
use super::source::Source;
use super::transfer::Filling;
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
    known: Known,
    /// The pair that was told last.
    pub(super) pair: Option<Pair>,
}

/// How far it is known how large the files are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Known {
    /// It was not asked yet, or the journal is another one since.
    #[default]
    Nothing,
    /// The journal is looked at.
    Looking,
    /// The pieces of the text at this place are measured; beyond the last text all is known.
    Measuring(usize),
}

impl Contents {
    /// Begins with the scale as it is now; what is known of the same journal already is kept.
    pub(super) fn begin(&mut self, app: &App, journal: Option<&Journal>) {
        if self.is_of(app, journal) {
            self.snapshot.refresh(app, journal);
            if let Known::Measuring(place) = self.known {
                // How the scale is stands in one text only, the last; a date in another is always as long.
                self.begin_index(Text::Check);
                self.known = Known::Measuring(place.min(Text::Check as usize));
            }
            return;
        }
        self.snapshot.take(app, journal);
        self.known = Known::Looking;
        self.pair = None;
        self.begin_index(Text::Backup);
    }

    /// What is known is of another journal.
    pub(super) const fn forget(&mut self) {
        self.known = Known::Nothing;
    }

    /// Whether what is known, or was begun, is of the journal as it is now.
    pub(super) fn is_of(&self, app: &App, journal: Option<&Journal>) -> bool {
        self.known != Known::Nothing && self.snapshot.is_of(app, journal)
    }

    /// Finds out a little more; `false` once all is known. A slice takes some milliseconds.
    #[inline(never)]
    pub(super) fn find_out<F: NorFlash>(&mut self, source: &mut Source<'_, F>) -> bool {
        let place = match self.known {
            Known::Nothing => return false,
            Known::Looking => {
                self.look(source);
                return true;
            }
            Known::Measuring(place) => place,
        };
        let Some(&text) = Text::ALL.get(place) else {
            return false;
        };
        let Some(piece) = self.index(text).next() else {
            self.known = Known::Measuring(place.saturating_add(1));
            return true;
        };
        let lengths = self.lengths_in_short(text, piece, source);
        if lengths.is_empty() {
            let mut window = Window::counting();
            self.write(text, piece, &mut window, source);
            if !source.is_spent {
                self.measured(text, window.at());
            }
        }
        for bytes in lengths {
            self.measured(text, bytes);
        }
        true
    }

    /// Looks at a sector of the journal, and at how much of the backup it is: to read one costs more than all else.
    fn look<F: NorFlash>(&mut self, source: &mut Source<'_, F>) {
        let mut window = Window::counting();
        if self.index(Text::Backup).next() == Some(0) {
            self.write(Text::Backup, 0, &mut window, source);
        } else if !self.snapshot.look(source, &mut window) {
            for text in Text::ALL {
                if text != Text::Backup {
                    self.begin_index(text);
                }
            }
            self.known = Known::Measuring(0);
            return;
        }
        self.measured(Text::Backup, window.at());
    }

    fn begin_index(&mut self, text: Text) {
        if let Some(index) = self.indices.get_mut(text as usize) {
            index.begin(text.pieces(&self.snapshot));
        }
    }

    fn measured(&mut self, text: Text, bytes: u32) {
        if let Some(index) = self.indices.get_mut(text as usize) {
            index.measured(bytes);
        }
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

    /// Whether the listed pair is at hand. If not, it is in the next turn.
    pub(super) fn have<F: NorFlash>(&mut self, number: u16, source: &mut Source<'_, F>) -> bool {
        if self.pair.as_ref().is_none_or(|pair| pair.number != number) {
            self.pair = Some(self.snapshot.pair(number, source));
            source.is_spent = true;
        }
        !source.is_spent
    }

    /// Fills `out` with what a text holds from byte `from` on, up to where a pair has to be read.
    fn read_text<F: NorFlash>(&mut self, text: Text, from: u32, out: &mut Filling, source: &mut Source<'_, F>) {
        let begun = out.rest.take();
        let (mut piece, begin) = begun.unwrap_or_else(|| self.index(text).before(from));
        let pieces = self.index(text).pieces();
        let mut window = Window::new(begin, from, &mut out.bytes);
        while piece < pieces && !window.is_full() {
            let at = window.at();
            if let Some(index) = self.indices.get_mut(text as usize) {
                index.read(piece, at);
            }
            self.write(text, piece, &mut window, source);
            if source.is_spent {
                out.rest = Some((piece, at));
                return;
            }
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
    fn read(&mut self, file: usize, offset: u32, out: &mut Filling) {
        match HOLDS.get(file) {
            Some(&Holds::Text(text)) => self.contents.read_text(text, offset, out, self.source),
            Some(Holds::Manual) => {
                let from = usize::try_from(offset).unwrap_or(usize::MAX);
                let manual = Packed::manual(self.contents.snapshot.language);
                for (into, byte) in out.bytes.iter_mut().zip(manual.text().skip(from)) {
                    *into = byte;
                }
            }
            Some(Holds::Nothing) | None => {}
        }
    }
}
