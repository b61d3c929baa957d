//! Where to stop winding to halve a cake: the number runs down to zero.

use crate::forecast::Winding;
use crate::screen::canvas::{Align, Canvas, Ink, Style};
use crate::screen::fonts::{FIGURES, HEADING, TEXT};
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::figures;
use crate::screen::parts::{HEAD, heading};
use crate::screen::speech::Blanks;
use crate::screen::view::Halve;
use crate::screen::words::Word;
use crate::units::Milligrams;
use crate::weighing::Indication;

/// Where the home page has them.
const STEADY: Field = Field::new(0, 17, 24, 25);
const NUMBER: Field = Field::new(26, 17, 84, 25);
const UNIT: Field = Field::new(113, 26, 15, 15);
const INFORMATION: Field = Field::new(0, 43, COLUMNS, 9);

/// Draws the page.
pub(in crate::screen) fn halve<D: Surface>(canvas: &mut Canvas<'_, D>, halve: &Halve) {
    let speech = canvas.speech;
    let Some(whole) = halve.whole else {
        heading(canvas, HEAD, speech.word(Word::Halve));
        canvas.text(STEADY, if halve.steady { "✓" } else { "~" }, Style::of(&FIGURES));
        let say = Field::new(29, 19, COLUMNS - 29, 32);
        return canvas.paragraph(say, speech.word(Word::HalveBegin), 11, Style::of(&TEXT));
    };
    let number = halve.to_go.map(|to_go| Indication::rounded(to_go.abs(), speech.unit));
    let word = match halve.winding {
        Winding::GoOn => Word::HalveToGo,
        Winding::Slowly => Word::HalveSlowly,
        Winding::Stop => Word::HalveEqual,
        Winding::Back => Word::HalveTooFar,
    };
    heading(canvas, HEAD, speech.word(word));
    canvas.text(STEADY, if halve.steady { "✓" } else { "~" }, Style::of(&FIGURES));
    if let Some(number) = number {
        let ink = if halve.steady { Ink::Lit } else { Ink::Outline };
        let style = Style::of(&FIGURES).align(Align::Right).ink(ink);
        canvas.text(NUMBER, &figures(number, speech.language, '-'), style);
        canvas.text(UNIT, speech.unit(), Style::of(&HEADING));
    }
    let blanks = Blanks {
        mass: Milligrams(whole.0 / 2),
        ..Blanks::default()
    };
    let next = match halve.winding {
        Winding::GoOn | Winding::Slowly | Winding::Back => Word::HalveStop,
        Winding::Stop => Word::HalveCut,
    };
    canvas.text(INFORMATION, &speech.sentence(next, blanks), Style::of(&TEXT))
}
