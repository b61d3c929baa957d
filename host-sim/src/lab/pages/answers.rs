//! Answers: the rest of the pair, a leftover, how far, where to stop winding.

use yarn_scale_core::forecast::Word as Verdict;
use yarn_scale_core::screen::{AnswerPage, Body, Word};

use super::album::Album;
use super::hands::{after, after_years, down, mark, one_cuff, until, weigh};
use crate::device::bench::{Bench, Key};

pub(super) fn answers(album: &mut Album) {
    rest(album);
    leftover(album);
    how_far(album);
    halve(album);
}

/// The answer for the rest of the pair, of the next section's yarn, from the home page.
fn ask_rest(scale: &mut Bench) {
    until(scale, Key::Next, |body| matches!(body, Body::Answer(_)));
}

fn rest(album: &mut Album) {
    // Five pairs say what such a pair takes.
    let mut scale = after_years();
    mark(&mut scale, 33.1);
    ask_rest(&mut scale);
    album.picture(&scale, "answer/rest-close");
    scale.press(Key::Zero);
    album.picture(&scale, "answer/rest-not-weighed-in");
    scale.hold(Key::Mark);
    scale.press(Key::Zero);
    mark(&mut scale, 48.34);
    ask_rest(&mut scale);
    album.picture(&scale, "answer/rest-by-records");
    more_stitches(&mut scale);
    ask_rest(&mut scale);
    album.picture(&scale, "answer/rest-scaled");
    // One pair says it, or two: too few for a spread.
    for (pairs, name) in [(1, "answer/rest-by-one-pair"), (2, "answer/rest-by-two-pairs")] {
        let mut scale = after(pairs);
        mark(&mut scale, 48.34);
        ask_rest(&mut scale);
        album.picture(&scale, name);
    }
    // Nothing but the stitches says it.
    let mut scale = Bench::with_pair();
    mark(&mut scale, 48.34);
    ask_rest(&mut scale);
    album.picture(&scale, "answer/rest-by-stitches");
    let mut scale = Bench::with_pair();
    weigh(&mut scale, 17.2);
    album.told(&scale);
    scale.take();
    ask_rest(&mut scale);
    album.picture(&scale, "answer/rest-short");
    // Of the parts of what is no sock nothing says anything.
    let mut scale = Bench::new();
    scale.open(Word::NewPair);
    down(&mut scale, 7);
    scale.press(Key::Mark);
    scale.press(Key::Mark);
    ask_rest(&mut scale);
    album.picture(&scale, "answer/rest-not-weighed-in-not-known");
    scale.press(Key::Next);
    mark(&mut scale, 103.4);
    ask_rest(&mut scale);
    album.picture(&scale, "answer/rest-not-known");
}

fn leftover(album: &mut Album) {
    let mut scale = after_years();
    scale.open(Word::WillItDo);
    album.picture(&scale, "guide/leftover");
    scale.put(14.1);
    album.picture(&scale, "answer/leftover-enough");
    next_of(&mut scale, |page| verdict(page) == Some(Verdict::Close));
    album.picture(&scale, "answer/leftover-close");
    next_of(&mut scale, |page| verdict(page) == Some(Verdict::Short));
    album.picture(&scale, "answer/leftover-short");
    until(
        &mut scale,
        Key::Next,
        |body| matches!(body, Body::Answer(page) if page.place.0 == 1),
    );
    scale.press(Key::Mark);
    album.picture(&scale, "uses/best");
    down(&mut scale, 3);
    album.picture(&scale, "uses/middle");
    until(
        &mut scale,
        Key::Next,
        |body| matches!(body, Body::Uses(uses) if usize::from(uses.selected) + 1 == uses.choices.len()),
    );
    album.picture(&scale, "uses/last");
    scale.press(Key::Zero);
    more_stitches(&mut scale);
    scale.open(Word::WillItDo);
    album.picture(&scale, "answer/leftover-scaled");
}

/// The pair has more stitches than the earlier ones had.
fn more_stitches(scale: &mut Bench) {
    scale.open(Word::Estimate);
    scale.press(Key::Mark);
    down(scale, 8);
    scale.press(Key::Mark);
    scale.press(Key::Zero);
}

/// Goes to the next answer of a kind.
fn next_of(scale: &mut Bench, wanted: impl Fn(&AnswerPage) -> bool) {
    until(
        scale,
        Key::Next,
        |body| matches!(body, Body::Answer(page) if wanted(page)),
    );
}

fn verdict(page: &AnswerPage) -> Option<Verdict> {
    page.answer.map(|answer| answer.word)
}

fn how_far(album: &mut Album) {
    let mut scale = one_cuff();
    scale.open(Word::HowFar);
    album.picture(&scale, "guide/how-far");
    weigh(&mut scale, 35.0);
    scale.take();
    weigh(&mut scale, 34.0);
    album.picture(&scale, "edit/rounds-knitted");
    scale.press(Key::Mark);
    album.picture(&scale, "list/how-far");
}

fn halve(album: &mut Album) {
    let mut scale = Bench::new();
    scale.put(98.42);
    scale.open(Word::Halve);
    album.picture(&scale, "halve/begin");
    scale.press(Key::Mark);
    scale.shake(72.55, 2.0);
    album.picture(&scale, "halve/winding");
    scale.shake(49.85, 2.0);
    album.picture(&scale, "halve/slowly");
    scale.put(49.21);
    album.picture(&scale, "halve/there");
    scale.put(47.1);
    album.picture(&scale, "halve/too-far");
}
