//! The list of everything that is not needed daily.

use super::super::dispatch::App;
use super::super::keys::Press;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::journal::{Record, Setting};
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::weighing::Unit;

/// What can be opened or changed here, in order.
const ROWS: [Row; 4] = [Row::Plan, Row::NewPair, Row::Bowls, Row::Units];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Row {
    Plan,
    NewPair,
    Bowls,
    Units,
}

pub(super) fn view(app: &App, selected: u8) -> Shows {
    let items = ROWS.iter().map(|&row| {
        let (word, value) = match row {
            Row::Plan => (Word::Plan, Value::Nothing),
            Row::NewPair => (Word::NewPair, Value::Nothing),
            Row::Bowls => (Word::Bowls, Value::Nothing),
            Row::Units => (
                Word::Units,
                Value::Word(match app.settings.unit {
                    Unit::Gram => Word::Grams,
                    Unit::Ounce => Word::Ounces,
                }),
            ),
        };
        Item {
            label: ItemLabel::Word(word),
            value,
        }
    });
    (
        Body::List(List {
            title: Word::Everything,
            items: items.collect(),
            selected,
        }),
        LIST_KEYS,
    )
}

pub(super) fn press(app: &mut App, press: Press, selected: u8) {
    match on_list(press, selected, ROWS.len()) {
        OnList::Back => app.page = Page::Pan,
        OnList::Highlight(selected) => app.page = Page::Everything { selected },
        OnList::Take => match ROWS.get(usize::from(selected)) {
            Some(Row::Plan) => {
                app.page = Page::Plan {
                    selected: app.cursor().unwrap_or(0),
                }
            }
            Some(Row::NewPair) => app.page = Page::Presets { selected: 0 },
            Some(Row::Bowls) => super::bowls::open(app),
            Some(Row::Units) => {
                let unit = match app.settings.unit {
                    Unit::Gram => Unit::Ounce,
                    Unit::Ounce => Unit::Gram,
                };
                app.note(Record::Setting(Setting::Unit(unit)));
            }
            None => {}
        },
        OnList::Nothing => {}
    }
}
