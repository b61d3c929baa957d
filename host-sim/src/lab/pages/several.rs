//! Several pairs on the needles, and what each of them took.

use yarn_scale_core::journal::{Named, Record};
use yarn_scale_core::screen::{Body, PairRow, Word};
use yarn_scale_core::sock::{Fibre, Label, YarnLetter};

use super::album::Album;
use super::hands::{TODAY, begin_both_at_a_time, days_pass, down, mark, until};
use crate::device::bench::{Bench, Key};

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;

pub(super) fn several(album: &mut Album) {
    let mut scale = Bench::new();
    two(album, &mut scale);
    finished(album, &mut scale);
    many(album, &mut scale);
}

fn name(scale: &mut Bench, what: Named, name: &str) {
    let name = name.try_into().expect("a short name");
    scale.adopt(Record::Named { what, name });
}

/// Goes to a pair of the list.
fn highlight(scale: &mut Bench, wanted: impl Fn(&PairRow) -> bool) {
    until(scale, Key::Next, |body| match body {
        Body::Pairs(list) => list.rows.get(usize::from(list.selected)).is_some_and(&wanted),
        _ => false,
    });
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
    // Only now a computer tells the time.
    scale.adopt(Record::ClockSet { unix: TODAY });
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

/// The pair in hand is taken from the needles after ten days.
fn finished(album: &mut Album, scale: &mut Bench) {
    days_pass(scale, 9.3);
    mark(scale, 88.0);
    mark(scale, 73.9);
    scale.open(Word::PairsOnNeedles);
    highlight(scale, |pair| pair.number == 2);
    scale.press(Key::Mark);
    scale.press(Key::Mark);
    album.picture(scale, "pair-summary/names");
    name(scale, Named::Pair(2), "Schlehe im November weit");
    album.picture(scale, "pair-summary/finished");
    down(scale, 4);
    album.picture(scale, "pair-summary/finished-days");
    scale.press(Key::Zero);
    album.picture(scale, "pan/other-pairs");
    scale.press(Key::Mark);
    highlight(scale, |pair| pair.finished);
    album.picture(scale, "pairs/one-finished");
    highlight(scale, |pair| pair.number == 1);
    scale.press(Key::Mark);
    scale.open(Word::PairsOnNeedles);
    highlight(scale, |pair| pair.number == 1);
    scale.press(Key::Mark);
    album.picture(scale, "pair-summary/knitting");
    scale.press(Key::Zero);
}

fn many(album: &mut Album, scale: &mut Bench) {
    for first in [77.0, 55.0, 48.0] {
        days_pass(scale, 20.0);
        knit(scale, &[first]);
    }
    name(scale, Named::Pair(4), "Schlehe");
    knit(scale, &[]);
    scale.open(Word::PairsOnNeedles);
    highlight(scale, |pair| pair.name.is_some());
    album.picture(scale, "pairs/many");
    scale.press(Key::Zero);
    for _ in 0..3 {
        knit(scale, &[]);
    }
    scale.open(Word::NewPair);
    down(scale, 2);
    album.picture(scale, "pairs/finish-one");
}
