//! How the scale is: for whoever looks for a fault. ZERO goes back, NEXT scrolls, MARK opens the check on the bench.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::math::whole;
use crate::screen::{Body, Item, ItemLabel, KeyWord, List, MAX_ROWS, Value, Word};
use crate::units::Milligrams;

/// How the scale is, from the first visible row on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct DiagnosticsPage {
    top: Highlight,
}

impl DiagnosticsPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match self.top.press(press, items(context).len()) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(_)) => Actions::go(To::Bench),
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let list = List {
            title: Word::Diagnostics,
            items: items(context),
            selected: self.top.0,
        };
        (Body::List(list), [KeyWord::BackOrUp, KeyWord::Check, KeyWord::Down])
    }
}

fn items(context: &Context<'_>) -> Vec<Item, MAX_ROWS> {
    let health = context.health;
    let known = |value: Option<Value>| value.unwrap_or(Value::Word(Word::NotKnown));
    let level = context
        .scale
        .level()
        .map(|level| Value::Number(level.0 / crate::units::FineCounts::PER_COUNT));
    let rows = [
        (
            Word::SelfTest,
            Value::Word(if health.sound() { Word::Good } else { Word::Bad }),
        ),
        (Word::Counts, known(level)),
        (
            Word::ASecond,
            known(health.a_second.map(|hertz| Value::Number(hertz.into()))),
        ),
        (
            Word::Noise,
            Value::Quantity(whole(context.scale.noise()), Word::MilligramsShort),
        ),
        (
            Word::Drift,
            Value::Quantity(whole(context.scale.drift()), Word::MilligramsAMinute),
        ),
        (
            Word::Supply,
            known(
                health
                    .supply
                    .map(|supply| Value::Quantity(supply.0.into(), Word::Millivolts)),
            ),
        ),
        (
            Word::JournalUsed,
            known(
                health
                    .journal_percent
                    .map(|used| Value::Quantity(used.into(), Word::Percent)),
            ),
        ),
        (Word::Damaged, Value::Number(health.gaps.into())),
        (Word::Hangs, Value::Number(health.hangs.into())),
        (Word::Errors, Value::Number(health.errors.into())),
        (
            Word::CalibrationOf100Grams,
            Value::PlusMinus(Milligrams::whole(1.96e5 * context.scale.calibration().u_span())),
        ),
        (Word::Version, Value::Name(context.version)),
    ];
    said(&rows)
}

/// Lines that say what is.
#[inline(never)]
pub(super) fn said(rows: &[(Word, Value)]) -> Vec<Item, MAX_ROWS> {
    let items = rows.iter().map(|&(word, value)| Item {
        label: ItemLabel::Word(word),
        value,
    });
    items.collect()
}
