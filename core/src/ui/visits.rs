//! A forgotten press made good: an earlier visit becomes the end of a section.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::book::{KEPT_VISITS, Visit};
use crate::journal::Record;
use crate::ledger::{Purpose, Step};
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::sock::Weight;

/// Earlier visits, one of which was the end of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct VisitsPage {
    line: u8,
    highlight: Highlight,
}

impl VisitsPage {
    pub(super) fn of(line: u8) -> Self {
        Self {
            line,
            highlight: Highlight::default(),
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let visits = fitting(context, self.line);
        match self.highlight.press(press, visits.len()) {
            Some(OnList::Back) => Actions::go(To::Line(self.line)),
            Some(OnList::Take(row)) => {
                let record = visits.get(row).and_then(|visit| late(context, self.line, visit));
                record.map_or_else(Actions::none, |record| Actions::note(record).and_go(To::Pan))
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let items = fitting(context, self.line).into_iter().map(|visit| Item {
            label: ItemLabel::MinutesAgo(context.now.0.saturating_sub(visit.at.0) / 60),
            value: Value::Mass(context.net(visit.gross, visit.bowl).value),
        });
        let list = List {
            title: Word::WhichVisit,
            // Fewer are kept than a list has rows.
            items: items.collect(),
            selected: self.highlight.0,
        };
        (Body::List(list), LIST_KEYS)
    }
}

/// Visits that can be the end of the section: their weight lies between the yarn's weights before and after.
fn fitting(context: &Context<'_>, line: u8) -> Vec<Visit, KEPT_VISITS> {
    let visits = context
        .book
        .visits()
        .newest_first()
        .filter(|visit| neighbours(context, line, visit).is_some());
    visits.copied().collect()
}

/// The yarn's mark behind the visit, if there is one, once the visit is known to fit.
fn neighbours(context: &Context<'_>, line: u8, visit: &Visit) -> Option<Option<Step>> {
    let yarn = context.ledger().plan().line(line)?.yarn;
    let net = context.net(visit.gross, visit.bowl).value;
    let mut chain = context.ledger().steps().iter().filter(|step| step.yarn == yarn);
    let before = chain.clone().rev().find(|step| step.at <= visit.at)?;
    let after = chain.find(|step| step.at > visit.at);
    // The bowl alone, or a hand that lifted it, was no cake.
    let cake = net >= EMPTY_BELOW;
    let fits = cake && net < before.weight.net.value && after.is_none_or(|after| after.weight.net.value < net);
    fits.then(|| after.copied())
}

/// The mark of a section that ended at the visit.
fn late(context: &Context<'_>, line: u8, visit: &Visit) -> Option<Record> {
    let section = context.ledger().plan().line(line)?;
    let after = neighbours(context, line, visit)?;
    let before = after.map(|step| (step.sequence, moved_on(context, line, step)));
    let weight = Weight {
        net: context.net(visit.gross, visit.bowl),
        bowl: visit.bowl,
        air: None,
    };
    Some(Record::LateMark {
        line,
        yarn: section.yarn,
        weight,
        visited: visit.at,
        before,
    })
}

/// What the mark behind the visit closes from now on: the next open section of its yarn, if it had closed this one.
fn moved_on(context: &Context<'_>, line: u8, step: Step) -> u8 {
    let Purpose::Section(closed) = step.purpose else {
        return line;
    };
    if closed != line {
        return closed;
    }
    let lines = context.ledger().plan().lines.iter().zip(0_u8..);
    let mut open = lines.filter(|&(other, place)| {
        place > line
            && other.yarn == step.yarn
            && !context.ledger().is_done(place)
            && !context.ledger().is_skipped(place)
    });
    open.next().map_or(line, |(_, place)| place)
}
