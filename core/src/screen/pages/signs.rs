//! What the small signs mean: each with what to do about it.

use crate::screen::canvas::{Align, Canvas, Style};
use crate::screen::fonts::{SIGNS, TEXT};
use crate::screen::frame::Surface;
use crate::screen::layout::PAGE;
use crate::screen::parts::shown_signs;
use crate::screen::view::Status;
use crate::screen::words::Word;

/// Columns for a sign.
const SIGN: u16 = 11;
/// Rows from one sign to the next: four of them fill the page.
const PITCH: u16 = 13;

/// Draws the signs that are shown now, one below the other.
pub(in crate::screen) fn signs<D: Surface>(canvas: &mut Canvas<'_, D>, status: Status) {
    let mut line = PAGE;
    let mut shown = shown_signs(status).peekable();
    if shown.peek().is_none() {
        return canvas.word(PAGE.below(20), Word::NoSigns, Style::of(&TEXT));
    }
    for (sign, meaning) in shown {
        let mut text = [0; 4];
        let text = sign.encode_utf8(&mut text);
        canvas.text(line.first(SIGN), text, Style::of(&SIGNS).align(Align::Middle));
        canvas.word(line.after(SIGN.saturating_add(5)).below(1), meaning, Style::of(&TEXT));
        line = line.below(PITCH);
    }
}
