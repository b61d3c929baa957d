//! Drawing into fields: no text leaves the field it was given, and what had to be cut is counted.

use super::font::{Font, Glyph};
use super::frame::Surface;
use super::layout::Field;
use super::speech::Speech;
use super::words::Word;

/// Where a text stands in its field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Middle,
    Right,
}

/// How a glyph is put down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ink {
    /// Lit on dark.
    Lit,
    /// Dark on a lit ground.
    Dark,
    /// Only its outline, lit.
    Outline,
}

/// How a text looks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Style {
    font: &'static Font,
    align: Align,
    ink: Ink,
    bold: bool,
}

/// A target, with what every text on it depends on, and the count of texts that did not fit.
#[derive(Debug)]
pub(super) struct Canvas<'t, D> {
    target: &'t mut D,
    /// How numbers and words are said.
    pub(super) speech: Speech,
    /// Texts that were cut because their field was too small.
    pub(super) cut: u8,
}

impl Style {
    /// Lit, from the left.
    pub(super) const fn of(font: &'static Font) -> Self {
        Self {
            font,
            align: Align::Left,
            ink: Ink::Lit,
            bold: false,
        }
    }

    pub(super) const fn align(self, align: Align) -> Self {
        Self { align, ..self }
    }

    pub(super) const fn ink(self, ink: Ink) -> Self {
        Self { ink, ..self }
    }

    /// Every stroke one column broader.
    pub(super) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    /// Columns that `text` takes.
    pub(super) fn width(self, text: &str) -> u16 {
        // Not `count`, which takes 350 bytes in order to be quick with long texts.
        let broader = text
            .chars()
            .fold(0, |count: u16, _| count.saturating_add(u16::from(self.bold)));
        self.font.width(text).saturating_add(broader)
    }
}

impl<'t, D: Surface> Canvas<'t, D> {
    pub(super) fn new(target: &'t mut D, speech: Speech) -> Self {
        Self { target, speech, cut: 0 }
    }

    /// Makes the whole display dark.
    pub(super) fn clear(&mut self) {
        self.target.clear();
    }

    /// Lights a whole field.
    pub(super) fn fill(&mut self, field: Field) {
        self.target.fill(field);
    }

    /// Writes a word of the table; see [`Self::text`].
    pub(super) fn word(&mut self, field: Field, word: Word, style: Style) {
        self.text(field, self.speech.word(word), style);
    }

    /// Writes one line from the top of its field; what does not fit is cut at its end, and counted.
    pub(super) fn text(&mut self, field: Field, text: &str, style: Style) {
        let font = style.font;
        let width = style.width(text);
        let spare = i32::from(field.width.saturating_sub(width));
        let mut left = field.left.saturating_add(match style.align {
            Align::Left => 0,
            Align::Middle => spare / 2,
            Align::Right => spare,
        });
        if width > field.width || u16::from(font.rows) > field.height {
            self.cut = self.cut.saturating_add(1);
        }
        for glyph in text.chars().filter_map(|character| font.glyph(character)) {
            let next = left
                .saturating_add(i32::from(glyph.width()))
                .saturating_add(i32::from(style.bold));
            if next > field.right() {
                break;
            }
            self.glyph([left, field.top], glyph, style);
            left = next.saturating_add(i32::from(font.gap));
        }
    }

    /// Writes a text over as many lines as it needs, `pitch` rows apart, broken between words; lines that do not fit
    /// into the field are left out, and counted.
    pub(super) fn paragraph(&mut self, field: Field, text: &str, pitch: u16, style: Style) {
        let mut rest = text;
        let mut line = field;
        while !rest.is_empty() {
            let (now, later) = first_line(rest, style, field.width);
            if u16::from(style.font.rows) > line.height {
                self.cut = self.cut.saturating_add(1);
                return;
            }
            self.text(line, now, style);
            rest = later;
            line = line.below(pitch);
        }
    }

    fn glyph(&mut self, [left, top]: [i32; 2], glyph: Glyph, style: Style) {
        let lit = style.ink != Ink::Dark;
        let mut before = 0;
        for column in 0..glyph.width().saturating_add(u16::from(style.bold)) {
            let here = glyph.column(column);
            let bits = match style.ink {
                Ink::Outline => glyph.edge(column),
                Ink::Lit | Ink::Dark if style.bold => here | before,
                Ink::Lit | Ink::Dark => here,
            };
            before = here;
            self.target.put(left.saturating_add(i32::from(column)), top, bits, lit);
        }
    }
}

/// How many lines a paragraph takes.
pub(super) fn lines_of(text: &str, style: Style, width: u16) -> u16 {
    let (mut rest, mut lines) = (text, 0_u16);
    while !rest.is_empty() {
        (_, rest) = first_line(rest, style, width);
        lines = lines.saturating_add(1);
    }
    lines
}

/// As many words as fit into `width`, one at least, and what remains.
fn first_line(text: &str, style: Style, width: u16) -> (&str, &str) {
    let mut taken = (text, "");
    let mut fits = false;
    let spaces = text.bytes().zip(0_usize..).filter(|&(byte, _)| byte == b' ');
    for place in spaces.map(|(_, place)| place).chain(core::iter::once(text.len())) {
        let (Some(now), Some(later)) = (text.get(..place), text.get(place..)) else {
            break;
        };
        if fits && style.width(now) > width {
            break;
        }
        taken = (now, later.strip_prefix(' ').unwrap_or(later));
        fits = true;
    }
    taken
}
