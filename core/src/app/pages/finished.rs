//! The finished pair on the pan: does it weigh what its sections took, and is it dry again after washing?

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::marking::EMPTY_BELOW;
use super::{Page, Shows};
use crate::forecast::{all_ends, moisture_over_days};
use crate::forecast::{
    drying::{Drying, Dryness},
    pair_check::{FinishedPair, PairCheck, pair_check},
};
use crate::measured::Measured;
use crate::screen::{Body, Guide, KeyWord, Value, Word};
use crate::sock::{Decitex, YarnLetter};

/// Opens the pair check, or asks it anew.
pub(in super::super) fn open_check(app: &mut App) {
    app.page = Page::PairCheck { check: check(app) };
}

/// Opens "dry yet", or asks it anew.
pub(in super::super) fn open_dry(app: &mut App) {
    app.page = Page::Dry { dryness: dryness(app) };
}

pub(super) fn check_view(app: &App, check: Option<PairCheck>) -> Shows {
    let body = check.map_or_else(|| put_on(app, Word::PairCheck), Body::PairCheck);
    (body, [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
}

pub(super) fn dry_view(app: &App, dryness: Option<Dryness>) -> Shows {
    let body = dryness.map_or_else(|| put_on(app, Word::DryYet), Body::Dry);
    (body, [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
}

pub(super) fn press(app: &mut App, press: Press) {
    if press == Press::Short(Key::Zero) {
        app.page = Page::Pan;
    }
}

fn put_on(app: &App, title: Word) -> Body {
    let steady = app.scale.steady().is_some();
    Body::Guide(Guide {
        title,
        say: Word::PutPairOn,
        value: Value::Nothing,
        steady,
    })
}

/// What is on the pan, bowl taken off.
fn on_pan(app: &App) -> Option<Measured> {
    let load = app.scale.steady()?;
    let net = app.net(app.scale.gross(&load), app.book.bowls().in_use());
    (net.value >= EMPTY_BELOW).then_some(net)
}

fn check(app: &App) -> Option<PairCheck> {
    let pair = on_pan(app)?;
    let sections = app.book.ledger().total_used();
    let lines = 0..u8::try_from(app.book.ledger().plan().lines.len()).unwrap_or(u8::MAX);
    let marked = lines
        .clone()
        .filter_map(|line| app.book.ledger().used(line))
        .map(|used| used.value);
    let unmarked = lines.clone().filter(|&line| !app.book.ledger().is_done(line)).count();
    let ends = all_ends(app.book.ledger());
    // The yarn that the sections took most of stands for the ends of all.
    let main = YarnLetter::ALL
        .into_iter()
        .max_by_key(|&yarn| app.book.ledger().account(yarn).used)?;
    Some(pair_check(FinishedPair {
        pair,
        sections,
        moisture_u: moisture_over_days(app.book.ledger(), main, sections.value),
        ends,
        yarn: Decitex::from_metres_per_100_g(app.book.ledger().label(main).metres_per_100_g),
        lightest: marked.min(),
        unmarked: u8::try_from(unmarked).unwrap_or(u8::MAX),
    }))
}

/// How dry, from the visits that can be this pair: between dripping wet and a tenth under its sections.
fn dryness(app: &App) -> Option<Dryness> {
    let now = on_pan(app)?;
    let sections = app.book.ledger().total_used();
    let conditioned = (sections.value.0 > 0).then_some(sections);
    let reference = conditioned.map_or(now.value, |sections| sections.value);
    let mut drying = Drying::new(conditioned);
    for visit in app.book.visits().oldest_first() {
        let net = app.net(visit.gross, visit.bowl);
        let is_pair = net.value.0 > reference.0.saturating_mul(9) / 10 && net.value.0 < reference.0.saturating_mul(3);
        if is_pair {
            drying.weigh(visit.at, net);
        }
    }
    drying.weigh(app.stamp(), now);
    drying.dryness()
}
