//! A plan to begin a pair with.

use super::super::dispatch::App;
use super::super::keys::Press;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::ledger::Preset;
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};

pub(super) fn view(selected: u8) -> Shows {
    let items = Preset::ALL.iter().map(|&preset| {
        let word = match preset {
            Preset::OneYarn => Word::OneYarn,
            Preset::ContrastHeelsToes => Word::ContrastHeelsToes,
            Preset::ContrastCuffsHeelsToes => Word::ContrastCuffsHeelsToes,
            Preset::OneYarnToeUp => Word::OneYarnToeUp,
            Preset::ContrastToeUp => Word::ContrastToeUp,
        };
        Item {
            label: ItemLabel::Word(word),
            value: Value::Nothing,
        }
    });
    (
        Body::List(List {
            title: Word::NewPair,
            items: items.collect(),
            selected,
        }),
        LIST_KEYS,
    )
}

pub(super) fn press(app: &mut App, press: Press, selected: u8) {
    match on_list(press, selected, Preset::ALL.len()) {
        OnList::Back => app.page = Page::Everything { selected: 1 },
        OnList::Highlight(selected) => app.page = Page::Presets { selected },
        OnList::Take => {
            if let Some(preset) = Preset::ALL.get(usize::from(selected)) {
                app.begin_pair(*preset);
            }
        }
        OnList::Nothing => {}
    }
}
