//! A value to set.

use super::list::{title, value};
use crate::screen::canvas::{Align, Canvas, Style, Target};
use crate::screen::fonts::{HEADING, TEXT};
use crate::screen::layout::PAGE;
use crate::screen::view::Edit;

/// Draws the page on which a value is set.
pub(in crate::screen) fn edit<D: Target>(canvas: &mut Canvas<'_, D>, edit: &Edit) -> Result<(), D::Error> {
    let speech = canvas.speech;
    title(canvas, speech.word(edit.title), "")?;
    let style = Style::of(&HEADING).align(Align::Middle);
    canvas.text(PAGE.below(16), &value(speech, edit.value), style)?;
    if let Some(hint) = edit.hint {
        canvas.paragraph(PAGE.below(32), speech.word(hint), 10, Style::of(&TEXT))?;
    }
    Ok(())
}
