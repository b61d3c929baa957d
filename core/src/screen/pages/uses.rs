//! What a leftover would be good for, best use first: two lines each.

use super::answer::{kinds, need_word, verdict_word};
use super::list::title;
use crate::screen::canvas::{Align, Canvas, Ink, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::whole;
use crate::screen::parts::{first_visible, plus, scroll_bar};
use crate::screen::speech::joined;
use crate::screen::view::Uses;
use crate::screen::words::Word;

/// The uses that are visible at once, two lines each.
const ROWS: Field = Field::new(0, 11, COLUMNS, 41);
/// Rows from one use to the next.
const PITCH: u16 = 21;
/// Uses that are visible at once.
const VISIBLE: usize = 2;

/// Draws the list.
pub(in crate::screen) fn uses<D: Surface>(canvas: &mut Canvas<'_, D>, uses: &Uses) {
    let speech = canvas.speech;
    let count = uses.choices.len();
    let place = joined(&[
        &whole(i32::from(uses.selected).saturating_add(1)),
        "/",
        &whole(i32::try_from(count).unwrap_or(0)),
    ]);
    title(canvas, speech.word(Word::WillItDo), &place);
    let start = first_visible(uses.selected, count, VISIBLE);
    scroll_bar(canvas, ROWS, [start, VISIBLE, count]);
    let mut field = ROWS.first(COLUMNS.saturating_sub(4));
    for (place, choice) in uses.choices.iter().enumerate().skip(start).take(VISIBLE) {
        let highlighted = place == usize::from(uses.selected);
        if highlighted {
            canvas.fill(Field { height: 20, ..field });
        }
        let style = Style::of(&TEXT).ink(if highlighted { Ink::Dark } else { Ink::Lit });
        let inside = field.below(1).after(1).first(field.width.saturating_sub(2));
        canvas.text(inside, &kinds(speech, choice.kinds), style);
        let socks = speech.word(need_word(choice.kinds, choice.socks));
        let verdict = joined(&[socks, " ", speech.word(verdict_word(choice.answer.word))]);
        canvas.text(inside.below(10), &verdict, style);
        // As in every table, without the unit.
        let number = joined(&[plus(choice.answer.likely), &speech.number(choice.answer.likely)]);
        canvas.text(inside.below(10), &number, style.align(Align::Right));
        field = field.below(PITCH);
    }
}
