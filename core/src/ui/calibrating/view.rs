//! What the pages of the calibration show.

use heapless::Vec;

use super::checks::Check;
use super::{Calibrating, Deed, On, Stage};
use crate::screen::{Body, Edit, Guide, Item, ItemLabel, KeyWord, List, Value, Word};
use crate::ui::context::Context;
use crate::ui::highlight::{Highlight, LIST_KEYS};
use crate::ui::shows::Shows;
use crate::units::Milligrams;
use crate::weighing::{COINS, Proof};

/// What a check may come to and still be called good: one division, the limit of error from 50 to 200 g in class III (OIML R 76-1:2006,
/// Table 6, 3.6.1 and 3.6.2, as restated in secondary sources).
const TOLERABLE: Milligrams = Milligrams(100);

impl Calibrating {
    pub(in crate::ui) fn view(&self, context: &Context<'_>) -> Shows {
        match self.stage {
            Stage::EmptyPan | Stage::Lift { .. } => guide(context, Word::EmptyThePan, Value::Nothing),
            Stage::WhatNext { highlight } => (self.what_next(highlight), LIST_KEYS),
            Stage::Mass { grams_tenths } => {
                let value = Value::Mass(Milligrams(grams_tenths.saturating_mul(100)));
                edit(Word::KnownMass, value)
            }
            Stage::WhichCoin { highlight } => {
                let coins = COINS.iter().map(|coin| Item {
                    label: ItemLabel::Name(coin.name),
                    value: Value::Mass(coin.mass),
                });
                (
                    Body::List(List {
                        title: Word::WhichCoin,
                        items: coins.collect(),
                        selected: highlight.0,
                    }),
                    LIST_KEYS,
                )
            }
            Stage::HowMany { count, .. } => edit(Word::HowMany, Value::Number(count.into())),
            Stage::PutOn(on) => {
                let load = Value::Measured(self.load);
                match on {
                    On::Mass | On::MassAgain => guide(context, Word::PutOnPan, load),
                    On::Cup => guide(context, Word::CupOnPan, Value::Nothing),
                    On::WithCup(_) => guide(context, Word::MassWithCup, load),
                }
            }
            Stage::Checking(check) => {
                let placed = self.checks.placed(check);
                guide(
                    context,
                    check.word(placed),
                    Value::Number(placed.saturating_add(1).into()),
                )
            }
            Stage::Proven { proof } => (self.proven(&proof), [KeyWord::Back, KeyWord::Accept, KeyWord::Nothing]),
        }
    }

    fn what_next(&self, highlight: Highlight) -> Body {
        let spread = |spread: Option<Milligrams>| spread.map_or(Value::Nothing, Value::Mass);
        let items = self.deeds().into_iter().map(|deed| {
            let (word, value) = match deed {
                Deed::KnownMass => (Word::KnownMass, Value::Nothing),
                Deed::Coins => (Word::Coins, Value::Nothing),
                Deed::Cup => (Word::WithCup, Value::Nothing),
                Deed::Repeat => (Word::Repeatability, spread(self.checks.spread(Check::Repeat))),
                Deed::Corners => (Word::Corners, spread(self.checks.spread(Check::Corners))),
                Deed::Prove => (
                    Word::FinishCalibration,
                    Value::Number(i32::try_from(self.points.len()).unwrap_or(0)),
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
            selected: highlight.0,
        })
    }

    /// What the new calibration is worth: of 300 g, in grams.
    fn proven(&self, proof: &Proof) -> Body {
        let of_300_g = Milligrams::whole(1.96 * proof.u);
        let mut items = Vec::new();
        let straight = (self.points.len() > 2).then_some(Milligrams::whole(proof.largest_residual));
        let judged = |found: Option<Milligrams>| {
            let judge =
                |found: Milligrams| Value::Judged(found, if found <= TOLERABLE { Word::Good } else { Word::Poor });
            found.map_or(Value::Word(Word::NotTried), judge)
        };
        let rows = [
            (Word::Of300Grams, Value::PlusMinus(of_300_g)),
            (Word::Linearity, judged(straight)),
            (Word::Repeatability, judged(self.checks.spread(Check::Repeat))),
            (Word::Corners, judged(self.checks.spread(Check::Corners))),
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
}

fn guide(context: &Context<'_>, say: Word, value: Value) -> Shows {
    let steady = context.scale.level().is_some();
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
