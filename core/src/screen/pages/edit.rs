//! A value to set.

use super::list::{title, value};
use crate::screen::canvas::{Align, Canvas, Style};
use crate::screen::fonts::{FIGURES, HEADING, TEXT};
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::whole;
use crate::screen::speech::joined;
use crate::screen::view::{Edit, Value};

/// A number, in the figures of the main number.
const NUMBER: Field = Field::new(0, 14, 92, 25);
/// Its unit, on the same base line.
const UNIT: Field = Field::new(95, 23, 33, 15);
/// Words.
const WORDS: Field = Field::new(0, 20, COLUMNS, 15);
/// The line of advice.
const HINT: Field = Field::new(0, 42, COLUMNS, 10);

/// Draws the page on which a value is set.
pub(in crate::screen) fn edit<D: Surface>(canvas: &mut Canvas<'_, D>, edit: &Edit) {
    let speech = canvas.speech;
    title(canvas, speech.word(edit.title), "");
    let large = match edit.value {
        Value::Number(number) => Some((joined(&[&whole(number)]), "")),
        Value::Halves(halves) => Some((speech.halves(halves), "")),
        Value::Mass(mass) => Some((speech.number(mass), speech.unit())),
        Value::Quantity(number, word) => Some((joined(&[&whole(number)]), speech.word(word))),
        Value::Nothing
        | Value::Rounds(_)
        | Value::Small(_)
        | Value::Word(_)
        | Value::Kind(_)
        | Value::Measured(_)
        | Value::PlusMinus(_)
        | Value::Both(..)
        | Value::Change(..)
        | Value::Judged(..)
        | Value::Checked(..)
        | Value::Name(_)
        | Value::Yarn(_) => None,
    };
    match large {
        Some((number, unit)) => {
            canvas.text(NUMBER, &number, Style::of(&FIGURES).align(Align::Right));
            canvas.text(UNIT, unit, Style::of(&HEADING));
        }
        None => {
            let words = value(speech, edit.value);
            canvas.text(WORDS, &words, Style::of(&HEADING).align(Align::Middle));
        }
    }
    if let Some(hint) = edit.hint {
        canvas.word(HINT, hint, Style::of(&TEXT));
    }
}
