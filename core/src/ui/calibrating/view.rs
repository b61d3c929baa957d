//! What the pages of the calibration show.

use super::checks::Check;
use super::{Calibrating, Deed, On, Stage};
use crate::screen::{Body, Guide, Item, ItemLabel, KeyWord, Value, Word};
use crate::ui::context::Context;
use crate::ui::highlight::Highlight;
use crate::ui::shows::{Shows, item, list};
use crate::ui::stepped::edit;
use crate::units::Milligrams;
use crate::weighing::{COINS, Proof};

/// What a check may come to and still be called good: one division, the limit of error from 50 to 200 g in class III (OIML R 76-1:2006,
/// Table 6, 3.6.1 and 3.6.2, as restated in secondary sources).
const TOLERABLE: Milligrams = Milligrams(100);

impl Calibrating {
    pub(in crate::ui) fn view(&self, context: &Context<'_>) -> Shows {
        match self.stage {
            Stage::EmptyPan | Stage::Lift { .. } => guide(context, Word::EmptyThePan, Value::Nothing),
            Stage::WhatNext { highlight } => self.what_next(highlight),
            Stage::Mass { grams_tenths } => {
                let value = Value::Mass(Milligrams(grams_tenths.saturating_mul(100)));
                edit(Word::KnownMass, value, KeyWord::Ok)
            }
            Stage::WhichCoin { highlight } => {
                let coin = |place: usize| {
                    COINS.get(place).map(|coin| Item {
                        label: ItemLabel::Name(coin.name),
                        value: Value::Mass(coin.mass),
                    })
                };
                list(Word::WhichCoin, highlight, &coin)
            }
            Stage::HowMany { count, .. } => edit(Word::HowMany, Value::Number(count.into()), KeyWord::Ok),
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
            Stage::Proven { proof } => self.proven(&proof),
        }
    }

    fn what_next(&self, highlight: Highlight) -> Shows {
        let spread = |spread: Option<Milligrams>| spread.map_or(Value::Nothing, Value::Mass);
        let deeds = self.deeds();
        list(Word::Calibration, highlight, &|place| {
            let (word, value) = match deeds.get(place)? {
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
            Some(item(word, value))
        })
    }

    /// What the new calibration is worth: of 300 g, in grams.
    fn proven(&self, proof: &Proof) -> Shows {
        let of_300_g = Milligrams::whole(1.96 * proof.u);
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
        // None is highlighted.
        let (body, _) = list(Word::AcceptCalibration, Highlight(u8::MAX), &|place| {
            rows.get(place).map(|&(word, value)| item(word, value))
        });
        (body, [KeyWord::Back, KeyWord::Accept, KeyWord::Nothing])
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
