//! What the pair in hand took, what is left of its yarns, how long it took; and that it is finished, or is not after all.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::screen::{Body, Item, ItemLabel, KeyWord, PairSummary, SUMMARY_ITEMS, Value};
use crate::sock::{Sock, YarnLetter};

/// The summary of the pair in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SummaryPage {
    highlight: Highlight,
}

impl SummaryPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, items(context).len()) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(_)) if context.ledger().is_open() => Action::FinishPair.into(),
            Some(OnList::Take(_)) if can_reopen(context) => Action::ReopenPair.into(),
            Some(OnList::Take(_)) | None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let ledger = context.ledger();
        let times = || ledger.steps().iter().map(|step| step.at);
        let summary = PairSummary {
            number: ledger.pair(),
            name: context.book.pair_name(ledger.pair()).cloned(),
            finished: !ledger.is_open(),
            days: times()
                .min()
                .zip(times().max())
                .and_then(|(from, to)| context.book.days(from, to)),
            items: items(context),
            selected: self.highlight.0,
        };
        let mark = match () {
            () if ledger.is_open() => KeyWord::Finish,
            () if can_reopen(context) => KeyWord::OpenAgain,
            () => KeyWord::Nothing,
        };
        let [back, _, down] = LIST_KEYS;
        (Body::PairSummary(summary), [back, mark, down])
    }
}

/// All marks of a finished pair are there only until another pair is begun or finished.
fn can_reopen(context: &Context<'_>) -> bool {
    context.book.needles().closed() == Some(context.ledger().pair())
}

/// Each section, both socks side by side, and what is left of each yarn.
fn items(context: &Context<'_>) -> Vec<Item, SUMMARY_ITEMS> {
    let ledger = context.ledger();
    let plan = ledger.plan();
    let mut items = Vec::new();
    for (line, place) in plan.lines.iter().zip(0_u8..) {
        let twin = plan.counterpart(place);
        // A second sock's line stands beside its twin.
        if line.sock == Sock::Second && twin.is_some() {
            continue;
        }
        let used = |place| ledger.used(place).map(|used| used.value);
        let value = match (used(place), twin.and_then(used)) {
            (Some(first), Some(second)) => Value::Both(first, second),
            (Some(one), None) | (None, Some(one)) => Value::Mass(one),
            (None, None) => continue,
        };
        // There are as many places as lines and yarns.
        let _ = items.push(Item {
            label: ItemLabel::Kind(line.kind),
            value,
        });
    }
    for yarn in YarnLetter::ALL {
        if let Some(last) = ledger.last(yarn) {
            let _ = items.push(Item {
                label: ItemLabel::YarnLeft(yarn),
                value: Value::Mass(last.weight.net.value),
            });
        }
    }
    items
}
