//! What is wrong or was not done, in one sentence with the way out.

use crate::journal::Language;
use crate::screen::canvas::{Canvas, Style};
use crate::screen::fonts::TEXT;
use crate::screen::frame::Surface;
use crate::screen::layout::PAGE;
use crate::screen::number::code;
use crate::screen::parts::{HEAD, badge, heading};
use crate::screen::speech::joined;
use crate::screen::view::{FaultWord, RefusedWord, RestartWord};
use crate::screen::words::Word;

/// Draws the page of a scale that cannot weigh.
pub(in crate::screen) fn fault<D: Surface>(canvas: &mut Canvas<'_, D>, fault: FaultWord) {
    advice(canvas, Word::CannotWeigh, canvas.speech.word(fault.word()))
}

/// Draws the page of something that was not done.
pub(super) fn refused<D: Surface>(canvas: &mut Canvas<'_, D>, refused: RefusedWord) {
    advice(canvas, Word::NotDone, canvas.speech.word(refused.word()))
}

/// Draws the page of a restart after a fault.
pub(super) fn restarted<D: Surface>(canvas: &mut Canvas<'_, D>, why: RestartWord) {
    match why {
        RestartWord::Hang => advice(canvas, Word::Restarted, canvas.speech.word(Word::Hung)),
        RestartWord::Error(error) => {
            let sentence = joined(&[canvas.speech.word(Word::Broke), " ", &code(error), "."]);
            advice(canvas, Word::Restarted, &sentence)
        }
    }
}

/// Draws the code of a fault, alone: for a start that may come no further. It is the same in every language.
pub(in crate::screen) fn bare_code<D: Surface>(canvas: &mut Canvas<'_, D>, error: u32) {
    let head = badge(canvas, HEAD.below(20), "!");
    heading(canvas, head, &code(error))
}

/// Draws that this is another board than the one the program is for, by its name, in both languages: none is known yet.
pub(in crate::screen) fn other_board<D: Surface>(canvas: &mut Canvas<'_, D>, name: &str) {
    let head = badge(canvas, HEAD, "!");
    heading(canvas, head, name);
    for (language, top) in [(Language::English, 19), (Language::German, 41)] {
        canvas.paragraph(PAGE.below(top), Word::OtherBoard.text(language), 11, Style::of(&TEXT));
    }
}

pub(super) fn advice<D: Surface>(canvas: &mut Canvas<'_, D>, title: Word, sentence: &str) {
    let head = badge(canvas, HEAD, "!");
    heading(canvas, head, canvas.speech.word(title));
    canvas.paragraph(PAGE.below(19), sentence, 11, Style::of(&TEXT))
}
