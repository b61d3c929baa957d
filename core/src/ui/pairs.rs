//! The pairs on the needles: which one to go on with, and which is finished where there is no room for another.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::journal::{OPEN_PAIRS, Record, Setting};
use crate::ledger::Pair;
use crate::screen::{Body, PAIR_ROWS, PAIR_YARNS, PairRow, Pairs};

/// The list of pairs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PairsPage {
    /// One has to be finished before another is begun.
    are_full: bool,
    highlight: Highlight,
}

impl PairsPage {
    /// Highlights the pair that was knitted last beside the one in hand, or a new one.
    pub(super) fn open(context: &Context<'_>) -> Self {
        Self {
            are_full: false,
            highlight: Highlight(u8::from(!in_order(context).is_empty())),
        }
    }

    /// There is no room for another pair: which one is finished?
    pub(super) fn which_is_finished() -> Self {
        Self {
            are_full: true,
            highlight: Highlight::default(),
        }
    }

    /// Whether no more pairs can be begun.
    pub(super) fn is_full(context: &Context<'_>) -> bool {
        context.book.needles().open() >= OPEN_PAIRS
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let pairs = in_order(context);
        let rows = pairs.len().saturating_add(usize::from(!self.are_full));
        let row = match self.highlight.press(press, rows) {
            Some(OnList::Take(row)) => row,
            Some(OnList::Back) => return Actions::go(To::Pan),
            None => return Actions::none(),
        };
        let Some(pair) = pairs.get(row) else {
            return Actions::go(To::Presets);
        };
        let in_hand = context.ledger().pair() == pair.number();
        let to = if in_hand || self.are_full || !pair.is_open() {
            To::Summary
        } else {
            To::Pan
        };
        if in_hand {
            return Actions::go(to);
        }
        Actions::note(Record::Setting(Setting::PairInHand(pair.number()))).and_go(to)
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let mut rows = Vec::new();
        for pair in in_order(context) {
            // There are as many places as pairs.
            let _ = rows.push(row(context, pair));
        }
        let list = Pairs {
            are_full: self.are_full,
            rows,
            selected: self.highlight.0,
        };
        (Body::Pairs(list), LIST_KEYS)
    }
}

/// The pair in hand, then the others, the one weighed last in front, then one that is finished.
fn in_order<'a>(context: &Context<'a>) -> Vec<Pair<'a>, PAIR_ROWS> {
    let in_hand = context.ledger().pair();
    let rank = |pair: &Pair<'_>| {
        let newest = (pair.is_open(), pair.weighed_at(), pair.number());
        (pair.number() == in_hand, newest)
    };
    let mut ordered: Vec<Pair<'a>, PAIR_ROWS> = Vec::new();
    let next = |ordered: &[Pair<'_>]| {
        let left = |pair: &Pair<'_>| !ordered.iter().any(|known| known.number() == pair.number());
        context.book.needles().pairs().filter(left).max_by_key(rank)
    };
    while let Some(pair) = next(&ordered) {
        if ordered.push(pair).is_err() {
            break;
        }
    }
    ordered
}

fn row(context: &Context<'_>, pair: Pair<'_>) -> PairRow {
    let mut yarns = Vec::new();
    for (yarn, step) in pair.yarns().take(PAIR_YARNS) {
        // No more are taken than there are places.
        let _ = yarns.push((yarn, step.weight.net.value));
    }
    PairRow {
        number: pair.number(),
        name: context.book.pair_name(pair.number()).cloned(),
        finished: !pair.is_open(),
        next: pair.next_section(),
        yarns,
        minutes_ago: pair.weighed_at().map(|at| context.now.0.saturating_sub(at.0) / 60),
    }
}
