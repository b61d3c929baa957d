//! Words and numbers put together, in the language and the unit of the view.

use heapless::String;

use super::number::{figures, fixed, whole};
use super::words::Word;
use crate::journal::Language;
use crate::measured::Measured;
use crate::sock::{Line, SectionKind, Sock, YarnLetter};
use crate::units::Milligrams;
use crate::weighing::{Indication, Unit};

/// A line or a sentence. Longer ones lose their end; none of the table is.
pub(super) type Text = String<160>;

/// How words and numbers are said.
#[derive(Clone, Copy, Debug)]
pub(super) struct Speech {
    pub(super) language: Language,
    pub(super) unit: Unit,
}

/// What stands in the blanks of a sentence of the table: `@` a yarn, `&` another, `#` a mass, `~` another without its unit, `$` a whole number, `^` a section.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Blanks {
    pub(super) yarn: YarnLetter,
    pub(super) other: YarnLetter,
    pub(super) mass: Milligrams,
    pub(super) other_mass: Milligrams,
    pub(super) number: u16,
    pub(super) section: Option<Line>,
}

impl Speech {
    pub(super) fn word(self, word: Word) -> &'static str {
        word.text(self.language)
    }

    pub(super) const fn unit(self) -> &'static str {
        match self.unit {
            Unit::Gram => "g",
            Unit::Ounce => "oz",
        }
    }

    /// `30.5`: a number of halves.
    pub(super) fn halves(self, halves: i32) -> Text {
        joined(&[&fixed(halves.saturating_mul(5), 1, self.language, MINUS)])
    }

    /// `12.3`, without its unit.
    pub(super) fn number(self, mass: Milligrams) -> Text {
        joined(&[&figures(Indication::rounded(mass, self.unit), self.language, MINUS)])
    }

    /// `12.3 g`.
    pub(super) fn mass(self, mass: Milligrams) -> Text {
        joined(&[&self.number(mass), " ", self.unit()])
    }

    /// `0.1 g`, rounded up: for a half-width.
    pub(super) fn mass_rounded_up(self, mass: Milligrams) -> Text {
        let number = figures(Indication::rounded_up(mass, self.unit), self.language, MINUS);
        joined(&[&number, " ", self.unit()])
    }

    /// `12.3±0.1`, for tables: with the half-width of the 95 % interval, rounded up.
    pub(super) fn interval(self, mass: Measured) -> Text {
        let around = figures(Indication::rounded_up(mass.expanded(), self.unit), self.language, MINUS);
        joined(&[&self.number(mass.value), "±", &around])
    }

    /// `12.3 ±0.1 g`.
    pub(super) fn measured(self, mass: Measured) -> Text {
        let around = self.mass_rounded_up(mass.expanded());
        joined(&[&self.number(mass.value), " ±", &around])
    }

    /// `0.20±0.01 g`: what a round takes; two figures more than a weight, the half-width rounded up.
    pub(super) fn small(self, mass: Measured) -> Text {
        let (step, places) = match self.unit {
            Unit::Gram => (10_000, 2),
            Unit::Ounce => (2_835, 4),
        };
        let in_steps = |milligrams: i32, more: i64| {
            let micrograms = i64::from(milligrams).saturating_mul(1_000);
            let steps = micrograms.saturating_add(more).checked_div(step).unwrap_or_default();
            fixed(i32::try_from(steps).unwrap_or(i32::MAX), places, self.language, MINUS)
        };
        let value = in_steps(mass.value.0, step / 2);
        let around = in_steps(mass.expanded().0, step.saturating_sub(1));
        joined(&[&value, "±", &around, " ", self.unit()])
    }

    /// `+0.2±0.1`: a difference has its sign.
    pub(super) fn difference(self, mass: Measured) -> Text {
        let plus = Indication::rounded(mass.value, self.unit).steps() > 0;
        joined(&[if plus { "+" } else { "" }, &self.interval(mass)])
    }

    /// `Heel 2`, `Part 3.2`: the section, and the sock or piece by its number.
    pub(super) fn section(self, kind: SectionKind, sock: Sock) -> Text {
        let number = match (kind.is_part(), sock) {
            (false, Sock::First) => " 1",
            (false, Sock::Second) => " 2",
            (true, Sock::First) => ".1",
            (true, Sock::Second) => ".2",
        };
        joined(&[self.word(kind.word()), number])
    }

    /// See [`Self::section`].
    pub(super) fn line(self, line: Line) -> Text {
        self.section(line.kind, line.sock)
    }

    /// A sentence of the table with its blanks filled.
    pub(super) fn sentence(self, word: Word, blanks: Blanks) -> Text {
        let mut text = Text::new();
        let section = |line: Option<Line>| line.map_or_else(Text::new, |line| self.line(line));
        for sign in self.word(word).chars() {
            // What does not fit is dropped: see `Text`.
            let _ = match sign {
                '@' => text.push(blanks.yarn.symbol()),
                '&' => text.push(blanks.other.symbol()),
                '#' => text.push_str(&self.mass(blanks.mass)),
                '~' => text.push_str(&self.number(blanks.other_mass)),
                '^' => text.push_str(&section(blanks.section)),
                '$' => text.push_str(&whole(blanks.number.into())),
                sign => text.push(sign),
            };
        }
        text
    }
}

/// Parts in a row.
pub(super) fn joined(parts: &[&str]) -> Text {
    let mut text = Text::new();
    for part in parts {
        // What does not fit is dropped: see `Text`.
        let _ = text.push_str(part);
    }
    text
}

/// The minus sign of running text, as wide as the plus.
const MINUS: char = '−';

/// A space of running text, one column wide.
pub(super) const THIN_SPACE: &str = "\u{2009}";
