//! How many rounds a cake still gives, and what that rests on.

use crate::screen::canvas::{Align, Canvas, Style};
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
    let [likely, each, kept] = LINES;
    let style = Style::of(&TEXT);
    let between = joined(&[&number(page.left.least), "–", &number(page.left.most)]);
    canvas.text(likely, &between, style);
    let counted = joined(&[&number(page.pace.rounds), " ", speech.word(Word::Counted)]);
    canvas.text(likely, &counted, style.align(Align::Right));
    let round_of = speech.small(page.pace.per_round.into());
    canvas.text(each, &joined(&[speech.word(Word::EachRound), " ", &round_of]), style);
    let keeps = [
        speech.word(Word::Keeps),
        " ",
        &speech.mass(reserve),
        ": ",
        speech.word(keep),
    ];
    canvas.text(kept, &joined(&keeps), style);
}
