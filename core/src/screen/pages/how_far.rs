//! How many rounds a cake still gives, and what that rests on.

use crate::screen::canvas::{Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::{COLUMNS, Field};
use crate::screen::number::whole;
use crate::screen::parts::{HEAD, heading, yarn_badge};
use crate::screen::speech::joined;
use crate::screen::view::HowFar;
use crate::screen::words::Word;

/// The three lines below the number.
const LINES: [Field; 3] = [
    Field::new(0, 19, COLUMNS, 10),
    Field::new(0, 30, COLUMNS, 10),
    Field::new(0, 41, COLUMNS, 10),
];

/// Draws the answer.
pub(in crate::screen) fn how_far<D: Surface>(canvas: &mut Canvas<'_, D>, page: &HowFar) {
    let speech = canvas.speech;
    let head = yarn_badge(canvas, HEAD, page.yarn);
    let number = |rounds: u16| whole(i32::from(rounds));
    let likely = joined(&[&number(page.left.likely), " ", speech.word(Word::Rounds)]);
    heading(canvas, head, &likely);
    let (keep, reserve) = page.keep;
    let lines = [
        joined(&[
            speech.word(Word::Between),
            " ",
            &number(page.left.least),
            "–",
            &number(page.left.most),
        ]),
        joined(&[
            &number(page.pace.rounds),
            ": ",
            &speech.small(page.pace.per_round.into()),
        ]),
        joined(&[
            speech.word(Word::Keeps),
            " ",
            &speech.mass(reserve),
            ": ",
            speech.word(keep),
        ]),
    ];
    for (field, line) in LINES.into_iter().zip(&lines) {
        canvas.text(field, line, Style::of(&TEXT));
    }
}
