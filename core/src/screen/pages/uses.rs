//! What a leftover would be good for, best use first: two lines each.

use super::answer::{kinds, need_word, verdict_word};
use super::list::{double_lines, title};
use crate::screen::canvas::Canvas;
use crate::screen::frame::Surface;
use crate::screen::number::whole;
use crate::screen::parts::plus;
use crate::screen::speech::{Text, joined};
use crate::screen::view::Uses;
use crate::screen::words::Word;

/// Draws the list: the sections over for how many socks and the verdict, with what is over or missing at the right.
pub(in crate::screen) fn uses<D: Surface>(canvas: &mut Canvas<'_, D>, uses: &Uses) {
    let speech = canvas.speech;
    let count = uses.choices.len();
    let place = joined(&[
        &whole(i32::from(uses.selected).saturating_add(1)),
        "/",
        &whole(i32::try_from(count).unwrap_or(0)),
    ]);
    title(canvas, speech.word(Word::WillItDo), &place);
    let line_of = |line: usize| match uses.choices.get(line / 2) {
        Some(choice) if line.is_multiple_of(2) => [kinds(speech, choice.kinds), Text::new()],
        Some(choice) => {
            let socks = speech.word(need_word(choice.kinds, choice.socks));
            let verdict = joined(&[socks, " ", speech.word(verdict_word(choice.answer.word))]);
            // As in every table, without the unit.
            let number = joined(&[plus(choice.answer.likely), &speech.number(choice.answer.likely)]);
            [verdict, number]
        }
        None => [Text::new(), Text::new()],
    };
    double_lines(canvas, [count, uses.selected.into()], &line_of)
}
