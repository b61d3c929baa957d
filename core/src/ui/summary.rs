//! What the pair in hand took, what is left of its yarns, how long it took; and that it is finished, or is not after all.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::screen::{Body, Item, ItemLabel, KeyWord, PairSummary, SUMMARY_ITEMS, Value, Word};
use crate::sock::{Sock, YarnLetter};

/// The summary of the pair in hand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct SummaryPage {
    highlight: Highlight,
}

impl SummaryPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let items = items(context);
        match self.highlight.press(press, items.len()) {
            Some(OnList::Take(_)) if context.ledger().is_open() => Action::FinishPair.into(),
            Some(OnList::Take(row)) if reopens(&items, row) => {
                self.highlight = Highlight::default();
                Action::ReopenPair.into()
            }
            // One MARK too many after the last section leaves the pair finished.
            Some(OnList::Back | OnList::Take(_)) => Actions::go(To::Pan),
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let ledger = context.ledger();
        let times = || ledger.steps().iter().map(|step| step.at);
        let items = items(context);
        let mark = match () {
            () if ledger.is_open() => KeyWord::Finish,
            () if reopens(&items, self.highlight.0.into()) => KeyWord::Choose,
            () => KeyWord::Ok,
        };
        let summary = PairSummary {
            number: ledger.pair(),
            name: context.book.pair_name(ledger.pair()).cloned(),
            finished: !ledger.is_open(),
            days: times()
                .min()
                .zip(times().max())
                .and_then(|(from, to)| context.book.days(from, to)),
            items,
            selected: self.highlight.0,
        };
        let [back, _, down] = LIST_KEYS;
        (Body::PairSummary(summary), [back, mark, down])
    }
}

/// All marks of a finished pair are there only until another pair is begun or finished.
fn can_reopen(context: &Context<'_>) -> bool {
    context.book.needles().closed() == Some(context.ledger().pair())
}

/// Whether this row is the one that opens the pair again.
fn reopens(items: &[Item], row: usize) -> bool {
    items
        .get(row)
        .is_some_and(|item| matches!(item.label, ItemLabel::Word(Word::OpenPair)))
}

/// Each section, both socks side by side, what is left of each yarn, and last, where it can be, that the pair is not finished after all.
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
        // There are as many places as lines and yarns, and one.
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
    let nothing = items.is_empty();
    if can_reopen(context) {
        let mut choice = |word| {
            let _ = items.push(Item {
                label: ItemLabel::Word(word),
                value: Value::Nothing,
            });
        };
        // Never the row that is highlighted first.
        if nothing {
            choice(Word::ChoiceNotNow);
        }
        choice(Word::OpenPair);
    }
    items
}
