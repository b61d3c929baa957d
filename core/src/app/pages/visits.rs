//! A forgotten press made good: an earlier visit becomes the end of a section.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::Press;
use super::super::marking::EMPTY_BELOW;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::book::{KEPT_VISITS, Visit};
use crate::journal::Record;
use crate::ledger::{Purpose, Step};
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::sock::Weight;

pub(super) fn view(app: &App, line: u8, selected: u8) -> Shows {
    let mut items = Vec::new();
    for visit in fitting(app, line) {
        let minutes = app.stamp().0.saturating_sub(visit.at.0) / 60;
        let ago = ItemLabel::MinutesAgo(minutes);
        // Fewer are kept than a list has rows.
        let _ = items.push(Item {
            label: ago,
            value: Value::Mass(app.net(visit.gross, visit.bowl).value),
        });
    }
    (
        Body::List(List {
            title: Word::WhichVisit,
            items,
            selected,
        }),
        LIST_KEYS,
    )
}

pub(super) fn press(app: &mut App, press: Press, line: u8, selected: u8) {
    let visits = fitting(app, line);
    match on_list(press, selected, visits.len()) {
        OnList::Back => app.page = Page::Line { line, selected: 0 },
        OnList::Highlight(selected) => app.page = Page::Visits { line, selected },
        OnList::Take => {
            if let Some(visit) = visits.get(usize::from(selected)) {
                set_late(app, line, visit);
            }
        }
        OnList::Nothing => {}
    }
}

/// Visits that can be the end of the section: their weight lies between the yarn's weights before and after.
fn fitting(app: &App, line: u8) -> Vec<Visit, KEPT_VISITS> {
    let visits = app
        .book
        .visits()
        .newest_first()
        .filter(|visit| neighbours(app, line, visit).is_some());
    visits.copied().collect()
}

/// The yarn's mark behind the visit, if there is one, once the visit is known to fit.
fn neighbours(app: &App, line: u8, visit: &Visit) -> Option<Option<Step>> {
    let yarn = app.book.ledger().plan().line(line)?.yarn;
    let net = app.net(visit.gross, visit.bowl).value;
    let mut chain = app.book.ledger().steps().iter().filter(|step| step.yarn == yarn);
    let before = chain.clone().rev().find(|step| step.at <= visit.at)?;
    let after = chain.find(|step| step.at > visit.at);
    // The bowl alone, or a hand that lifted it, was no cake.
    let cake = net >= EMPTY_BELOW;
    let fits = cake && net < before.weight.net.value && after.is_none_or(|after| after.weight.net.value < net);
    fits.then(|| after.copied())
}

fn set_late(app: &mut App, line: u8, visit: &Visit) {
    let Some(section) = app.book.ledger().plan().line(line) else {
        return;
    };
    let Some(after) = neighbours(app, line, visit) else {
        return;
    };
    let before = after.map(|step| (step.sequence, moved_on(app, line, step)));
    let weight = Weight {
        net: app.net(visit.gross, visit.bowl),
        bowl: visit.bowl,
        air: None,
    };
    app.page = Page::Pan;
    app.note(Record::LateMark {
        line,
        yarn: section.yarn,
        weight,
        visited: visit.at,
        before,
    });
}

/// What the mark behind the visit closes from now on: the next open section of its yarn, if it had closed this one.
fn moved_on(app: &App, line: u8, step: Step) -> u8 {
    let Purpose::Section(closed) = step.purpose else {
        return line;
    };
    if closed != line {
        return closed;
    }
    let lines = app.book.ledger().plan().lines.iter().zip(0_u8..);
    let mut open = lines.filter(|&(other, place)| {
        place > line
            && other.yarn == step.yarn
            && !app.book.ledger().is_done(place)
            && !app.book.ledger().is_skipped(place)
    });
    open.next().map_or(line, |(_, place)| place)
}
