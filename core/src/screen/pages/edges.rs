//! The question where a panel's picture begins: a frame along the outermost pixels.

use crate::screen::canvas::{Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field, KEYS, PAGE, ROWS};
use crate::screen::words::Word;

/// Draws the question in its frame; at the bottom the big key's ground is a part of it.
pub(in crate::screen) fn edges<D: Surface>(canvas: &mut Canvas<'_, D>) {
    let inside = PAGE.below(6).after(6).first(COLUMNS.saturating_sub(12));
    canvas.paragraph(inside, canvas.speech.word(Word::FrameTouches), 11, Style::of(&TEXT));
    let sides = ROWS.saturating_sub(2);
    let [right, bottom] = [COLUMNS, ROWS].map(|size| i32::from(size).saturating_sub(1));
    let [_, key, _] = KEYS;
    let before = u16::try_from(key.left).unwrap_or_default();
    let after = COLUMNS.saturating_sub(before.saturating_add(key.width));
    canvas.fill(Field::new(0, 0, COLUMNS, 1));
    canvas.fill(Field::new(0, 1, 1, sides));
    canvas.fill(Field::new(right, 1, 1, sides));
    canvas.fill(Field::new(0, bottom, before, 1));
    canvas.fill(Field::new(key.right(), bottom, after, 1));
}
