//! Several pairs on the needles, and what each of them took.

use yarn_scale_core::journal::{Named, Record};
use yarn_scale_core::screen::{Body, Word};
use yarn_scale_core::sock::{Fibre, Label, YarnLetter};

use super::album::Album;
use super::hands::{TODAY, begin_both_at_a_time, days_pass, down, mark, until};
use crate::device::bench::{Bench, Key};

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;

pub(super) fn several(album: &mut Album) {
    let mut scale = Bench::new();
    scale.adopt(Record::ClockSet { unix: TODAY });
    two(album, &mut scale);
    finished(album, &mut scale);
    many(album, &mut scale);
}

fn name(scale: &mut Bench, what: Named, name: &str) {
    let name = name.try_into().expect("a short name");
    scale.adopt(Record::Named { what, name });
}

/// Begins a pair and knits its first cuffs.
fn knit(scale: &mut Bench, weights: &[f64]) {
    begin_both_at_a_time(scale);
    for &grams in weights {
        mark(scale, grams);
    }
}

fn two(album: &mut Album, scale: &mut Bench) {
    knit(scale, &[40.0, 35.1]);
    scale.open(Word::PairsOnNeedles);
    album.picture(scale, "pairs/new");
    scale.press(Key::Zero);
    days_pass(scale, 2.0);
    knit(scale, &[60.0, 54.6]);
    name(scale, Named::Yarn(A), "Sloe");
    name(scale, Named::Yarn(B), "Moss green");
    scale.put(52.2);
    album.picture(scale, "pan/one-of-several");
    let label = Label {
        metres_per_100_g: 420,
        fibre: Fibre::WoolPolyamide,
    };
    scale.adopt(Record::Yarn { letter: B, label });
    album.picture(scale, "pan/one-of-several-metres");
    mark(scale, 49.5);
    mark(scale, 101.6);
    scale.open(Word::Yarns);
    down(scale, 1);
    album.picture(scale, "list/yarns");
    scale.press(Key::Mark);
    scale.press(Key::Mark);
    album.picture(scale, "edit/length");
    scale.hold(Key::Mark);
    scale.press(Key::Zero);
    scale.press(Key::Zero);
    scale.open(Word::PairsOnNeedles);
    album.picture(scale, "pairs/two");
    scale.press(Key::Zero);
}

/// The pair in hand is taken from the needles after twelve days.
fn finished(album: &mut Album, scale: &mut Bench) {
    days_pass(scale, 9.3);
    mark(scale, 88.0);
    mark(scale, 73.9);
    scale.open(Word::PairsOnNeedles);
    until(
        scale,
        Key::Next,
        |body| matches!(body, Body::Pairs(list) if list.selected == 0),
    );
    scale.press(Key::Mark);
    album.picture(scale, "pair-summary/knitting");
    scale.press(Key::Mark);
    album.picture(scale, "pair-summary/names");
    name(scale, Named::Pair(2), "Schlehe im November weit");
    album.picture(scale, "pair-summary/finished");
    down(scale, 4);
    album.picture(scale, "pair-summary/finished-days");
    scale.press(Key::Zero);
    album.picture(scale, "pan/other-pairs");
}

fn many(album: &mut Album, scale: &mut Bench) {
    for first in [77.0, 55.0, 48.0] {
        days_pass(scale, 20.0);
        knit(scale, &[first]);
    }
    name(scale, Named::Pair(4), "Schlehe");
    knit(scale, &[]);
    scale.open(Word::PairsOnNeedles);
    down(scale, 2);
    album.picture(scale, "pairs/many");
    scale.press(Key::Zero);
    for _ in 0..3 {
        knit(scale, &[]);
    }
    scale.open(Word::NewPair);
    down(scale, 2);
    album.picture(scale, "pairs/finish-one");
}
