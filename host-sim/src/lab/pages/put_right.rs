//! What was marked wrong or not at all is put right, and the plan changed.

use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::{Body, Word};

use super::album::Album;
use super::hands::{days_pass, down, highlight, mark, one_cuff, open_line, until, weigh};
use crate::device::bench::{Bench, Key};

pub(super) fn put_right(album: &mut Album) {
    // The empty pan shows that zero had moved under a first weight.
    let mut scale = Bench::with_pair();
    weigh(&mut scale, 48.36);
    scale.wait(20.0);
    scale.put(0.03);
    album.told(&scale);
    // The second cuff lay there on two days, and only the heel behind it was marked.
    let mut scale = one_cuff();
    days_pass(&mut scale, 0.1);
    scale.put(31.2);
    scale.take();
    days_pass(&mut scale, 0.9);
    scale.put(30.1);
    scale.take();
    scale.pause(2_000.0);
    scale.press(Key::Next);
    open_line(&mut scale, 4);
    scale.choose(Word::KnitThisNext);
    weigh(&mut scale, 23.0);
    highlight(&mut scale, |choice| matches!(choice, Choice::Section { line: 4, .. }));
    scale.press(Key::Mark);
    scale.take();
    open_line(&mut scale, 1);
    scale.choose(Word::ForgottenMark);
    album.picture(&scale, "list/visits");
    back(&mut scale);
    open_line(&mut scale, 5);
    down(&mut scale, 2);
    album.picture(&scale, "list/this-section");
    scale.choose(Word::SkipSection);
    album.told(&scale);
    scale.wait(7.0);
    scale.open(Word::Plan);
    album.picture(&scale, "plan/skipped");

    let mut scale = one_cuff();
    for grams in [30.0, 101.6, 87.2, 73.0, 23.0] {
        mark(&mut scale, grams);
    }
    open_line(&mut scale, 1);
    scale.choose(Word::MoveMark);
    album.picture(&scale, "list/move-to");
    scale.press(Key::Mark);
    album.picture(&scale, "list/moves");
    back(&mut scale);
    open_line(&mut scale, 1);
    scale.choose(Word::TakeMarkBack);
    album.picture(&scale, "list/take-back");
}

/// From what is done with one line of the plan to the home page.
fn back(scale: &mut Bench) {
    until(scale, Key::Zero, |body| matches!(body, Body::Pan(_)));
}
