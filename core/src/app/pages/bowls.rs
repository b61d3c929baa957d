//! The bowls: which is on the pan, and a new one tared.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::marking::EMPTY_BELOW;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::journal::{Record, Setting};
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::sock::BowlNumber;
use crate::weighing::SteadyLoad;

/// Opens the page; a load that is steady, or was when the finger came, can become a new bowl.
pub(super) fn open(app: &mut App) {
    let latched = app.marking.take_latched(Key::Zero, app.now);
    let steady = latched
        .or(app.scale.steady())
        .filter(|load| app.scale.gross(load).value >= EMPTY_BELOW);
    app.page = Page::Bowls {
        selected: 0,
        load: app.book.bowls().free().zip(steady),
    };
}

/// A line of the list.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Row {
    None,
    Known(BowlNumber),
    New(BowlNumber, SteadyLoad),
}

pub(super) fn view(app: &App, selected: u8, load: Option<(BowlNumber, SteadyLoad)>) -> Shows {
    let mut items = Vec::new();
    for row in rows(app, load) {
        let item = match row {
            Row::None => Item {
                label: ItemLabel::Word(Word::NoBowl),
                value: Value::Nothing,
            },
            Row::Known(number) => Item {
                label: ItemLabel::Bowl(number),
                value: Value::Mass(app.book.bowls().of(Some(number)).value),
            },
            Row::New(number, load) => Item {
                label: ItemLabel::NewBowl(number),
                value: Value::Mass(app.scale.gross(&load).value),
            },
        };
        // Eleven at the most.
        let _ = items.push(item);
    }
    (
        Body::List(List {
            title: Word::WhichBowl,
            items,
            selected,
        }),
        LIST_KEYS,
    )
}

pub(super) fn press(app: &mut App, press: Press, selected: u8, load: Option<(BowlNumber, SteadyLoad)>) {
    let rows = rows(app, load);
    match on_list(press, selected, rows.len()) {
        OnList::Back => app.page = Page::Pan,
        OnList::Highlight(selected) => app.page = Page::Bowls { selected, load },
        OnList::Take => {
            if let Some(&row) = rows.get(usize::from(selected)) {
                take(app, row);
            }
        }
        OnList::Nothing => {}
    }
}

fn rows(app: &App, load: Option<(BowlNumber, SteadyLoad)>) -> Vec<Row, 11> {
    let new = load.map(|(number, load)| Row::New(number, load));
    let known = app.book.bowls().all().map(|(number, _)| Row::Known(number));
    new.into_iter()
        .chain(known)
        .chain(core::iter::once(Row::None))
        .collect()
}

fn take(app: &mut App, row: Row) {
    app.page = Page::Pan;
    let bowl = match row {
        Row::None => None,
        Row::Known(number) => Some(number),
        Row::New(number, load) => {
            app.note(Record::Bowl {
                number,
                mass: app.scale.gross(&load),
            });
            Some(number)
        }
    };
    app.note(Record::Setting(Setting::BowlInUse(bowl)));
}
