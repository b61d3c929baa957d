//! What the pages of the calibration show.

use heapless::Vec;

use super::{Calibrating, Deed, On, Stage};
use crate::app::dispatch::App;
use crate::app::pages::{LIST_KEYS, Shows};
use crate::app::setup::checks::Check;
use crate::screen::{Body, Edit, Guide, Item, ItemLabel, KeyWord, List, Value, Word};
use crate::units::Milligrams;
use crate::weighing::{COINS, Proof};

/// What a check may come to and still be called good: one division, the limit of error from 50 to 200 g in class III (OIML R 76-1:2006,
/// Table 6, 3.6.1 and 3.6.2, as restated in secondary sources).
const TOLERABLE: Milligrams = Milligrams(100);

pub(in crate::app) fn view(app: &App, calibrating: &Calibrating) -> Shows {
    match calibrating.stage {
        Stage::EmptyPan | Stage::Lift { .. } => guide(app, Word::EmptyThePan, Value::Nothing),
        Stage::WhatNext { selected } => (what_next(calibrating, selected), LIST_KEYS),
        Stage::Mass { grams_tenths } => {
            let value = Value::Mass(Milligrams(grams_tenths.saturating_mul(100)));
            edit(Word::KnownMass, value)
        }
        Stage::WhichCoin { selected } => {
            let coins = COINS.iter().map(|coin| Item {
                label: ItemLabel::Name(coin.name),
                value: Value::Mass(coin.mass),
            });
            (
                Body::List(List {
                    title: Word::WhichCoin,
                    items: coins.collect(),
                    selected,
                }),
                LIST_KEYS,
            )
        }
        Stage::HowMany { count, .. } => edit(Word::HowMany, Value::Number(count.into())),
        Stage::PutOn(on) => {
            let load = Value::Measured(calibrating.load);
            match on {
                On::Mass | On::MassAgain => guide(app, Word::PutOnPan, load),
                On::Cup => guide(app, Word::CupOnPan, Value::Nothing),
                On::WithCup(_) => guide(app, Word::MassWithCup, load),
            }
        }
        Stage::Checking(check) => {
            let placed = calibrating.checks.placed(check);
            guide(app, check.word(placed), Value::Number(placed.saturating_add(1).into()))
        }
        Stage::Proven { proof } => (
            proven(calibrating, &proof),
            [KeyWord::Back, KeyWord::Accept, KeyWord::Nothing],
        ),
    }
}

fn guide(app: &App, say: Word, value: Value) -> Shows {
    let steady = app.scale.level().is_some();
    let body = Body::Guide(Guide {
        title: Word::Calibration,
        say,
        value,
        steady,
    });
    (body, [KeyWord::Back, KeyWord::Take, KeyWord::Nothing])
}

fn edit(title: Word, value: Value) -> Shows {
    let body = Body::Edit(Edit {
        title,
        value,
        hint: Some(Word::HoldMarkToLeave),
    });
    (body, [KeyWord::Less, KeyWord::Ok, KeyWord::More])
}

fn what_next(calibrating: &Calibrating, selected: u8) -> Body {
    let spread = |spread: Option<Milligrams>| spread.map_or(Value::Nothing, Value::Mass);
    let items = calibrating.deeds().into_iter().map(|deed| {
        let (word, value) = match deed {
            Deed::KnownMass => (Word::KnownMass, Value::Nothing),
            Deed::Coins => (Word::Coins, Value::Nothing),
            Deed::Cup => (Word::WithCup, Value::Nothing),
            Deed::Repeat => (Word::Repeatability, spread(calibrating.checks.spread(Check::Repeat))),
            Deed::Corners => (Word::Corners, spread(calibrating.checks.spread(Check::Corners))),
            Deed::Prove => (
                Word::FinishCalibration,
                Value::Number(i32::try_from(calibrating.points.len()).unwrap_or(0)),
            ),
        };
        Item {
            label: ItemLabel::Word(word),
            value,
        }
    });
    Body::List(List {
        title: Word::Calibration,
        items: items.collect(),
        selected,
    })
}

/// What the new calibration is worth: of 300 g, in grams.
fn proven(calibrating: &Calibrating, proof: &Proof) -> Body {
    let of_300_g = Milligrams((1.96 * proof.u) as i32);
    let mut items = Vec::new();
    let straight = (calibrating.points.len() > 2).then_some(Milligrams(proof.largest_residual as i32));
    let judged = |found: Option<Milligrams>| {
        let judge = |found: Milligrams| Value::Judged(found, if found <= TOLERABLE { Word::Good } else { Word::Poor });
        found.map_or(Value::Word(Word::NotTried), judge)
    };
    let rows = [
        (Word::Of300Grams, Value::PlusMinus(of_300_g)),
        (Word::Linearity, judged(straight)),
        (Word::Repeatability, judged(calibrating.checks.spread(Check::Repeat))),
        (Word::Corners, judged(calibrating.checks.spread(Check::Corners))),
    ];
    for (word, value) in rows {
        // Four fit.
        let _ = items.push(Item {
            label: ItemLabel::Word(word),
            value,
        });
    }
    Body::List(List {
        title: Word::AcceptCalibration,
        items,
        selected: u8::MAX,
    })
}
