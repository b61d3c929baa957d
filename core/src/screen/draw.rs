//! One view, one frame.

use super::canvas::{Align, Canvas, Ink, Style};
use super::fonts::TEXT;
use super::frame::Surface;
use super::layout::{ALL_KEYS, Field, KEYS, KEYS_OF_A_LIST};
use super::pages;
use super::speech::Speech;
use super::view::{Body, KeyWord, View};
use crate::journal::Language;
use crate::weighing::Unit;

/// What became of a drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Drawn {
    /// Texts that were cut because their field was too small: none, if every text fits its place.
    pub cut: u8,
}

/// Draws `view`, all of the display.
pub fn draw<D: Surface>(view: &View, target: &mut D) -> Drawn {
    let speech = Speech {
        language: view.language,
        unit: view.unit,
    };
    let mut canvas = Canvas::new(target, speech);
    canvas.clear();
    match &view.body {
        Body::Dark => return Drawn::default(),
        Body::Pan(pan) => pages::pan(&mut canvas, pan, view.status),
        Body::Used(used) => pages::used(&mut canvas, used),
        Body::Plan(plan) => pages::plan(&mut canvas, plan),
        Body::Notice(notice) => pages::notice(&mut canvas, notice),
        Body::Question(question) => pages::question(&mut canvas, question),
        Body::Fault(fault) => pages::fault(&mut canvas, *fault),
        Body::List(list) => pages::list(&mut canvas, list, &view.names),
        Body::Edit(edit) => pages::edit(&mut canvas, edit),
        Body::Guide(guide) => pages::guide(&mut canvas, guide),
        Body::Pairs(list) => pages::pairs(&mut canvas, list),
        Body::PairSummary(summary) => pages::pair_summary(&mut canvas, summary, &view.names),
        Body::Answer(answer) => pages::answer(&mut canvas, answer),
        Body::Uses(uses) => pages::uses(&mut canvas, uses),
        Body::Halve(halve) => pages::halve(&mut canvas, halve),
        Body::PairCheck(check) => pages::pair_check(&mut canvas, check),
        Body::Dry(dryness) => pages::dry(&mut canvas, dryness),
        Body::Signs(top) => pages::signs(&mut canvas, *top, view.status),
        Body::Edges => pages::edges(&mut canvas),
    }
    keys(&mut canvas, view.keys);
    Drawn { cut: canvas.cut }
}

/// Draws the code of an error that the device has found in itself, before anything else is known of it.
pub fn draw_code<D: Surface>(code: u32, target: &mut D) {
    pages::bare_code(&mut before_anything_is_known(target), code)
}

/// Draws that the program is not for this board, by the board's name.
pub fn draw_other_board<D: Surface>(name: &str, target: &mut D) {
    pages::other_board(&mut before_anything_is_known(target), name)
}

fn before_anything_is_known<D: Surface>(target: &mut D) -> Canvas<'_, D> {
    let speech = Speech {
        language: Language::default(),
        unit: Unit::default(),
    };
    let mut canvas = Canvas::new(target, speech);
    canvas.clear();
    canvas
}

/// The bottom line: what each key does now. The big key stands out; if all do the same, one word stands for them all.
fn keys<D: Surface>(canvas: &mut Canvas<'_, D>, words: [KeyWord; 3]) {
    let [left, middle, right] = words;
    if left == middle && middle == right {
        return key(canvas, ALL_KEYS, middle, (Align::Middle, Ink::Dark));
    }
    let looks = [
        (Align::Left, Ink::Lit),
        (Align::Middle, Ink::Dark),
        (Align::Right, Ink::Lit),
    ];
    let fields = if matches!(left, KeyWord::BackOrUp | KeyWord::DownOrUp) {
        KEYS_OF_A_LIST
    } else {
        KEYS
    };
    for ((field, word), look) in fields.into_iter().zip(words).zip(looks) {
        key(canvas, field, word, look);
    }
}

fn key<D: Surface>(canvas: &mut Canvas<'_, D>, field: Field, word: KeyWord, (align, ink): (Align, Ink)) {
    let Some(word) = word.word() else { return };
    if ink == Ink::Dark {
        canvas.fill(field);
    }
    let inside = field.below(1).after(1).first(field.width.saturating_sub(2));
    canvas.word(inside, word, Style::of(&TEXT).align(align).ink(ink))
}
