//! One thing to do now, and whether the pan is steady for it.

use super::list::{title, value};
use crate::screen::canvas::{Canvas, Style};
use crate::screen::fonts::{FIGURES, HEADING, TEXT};
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::view::Guide;

/// The steady sign, where the home page has it.
const STEADY: Field = Field::new(0, 17, 24, 25);
/// What to do.
const SAY: Field = Field::new(29, 13, COLUMNS - 29, 22);
/// With how much.
const VALUE: Field = Field::new(29, 36, COLUMNS - 29, 15);

/// Draws the page.
pub(in crate::screen) fn guide<D: Surface>(canvas: &mut Canvas<'_, D>, guide: &Guide) {
    let speech = canvas.speech;
    title(canvas, speech.word(guide.title), "");
    canvas.text(STEADY, if guide.steady { "✓" } else { "~" }, Style::of(&FIGURES));
    canvas.paragraph(SAY, speech.word(guide.say), 11, Style::of(&TEXT));
    canvas.text(VALUE, &value(speech, guide.value), Style::of(&HEADING))
}
