//! A plan to begin a pair with: which sections in which yarn, then in which order the socks are knitted.

use super::super::dispatch::App;
use super::super::keys::Press;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::sock::{Order, Preset};

pub(super) fn view(selected: u8) -> Shows {
    let words = Preset::ALL.iter().map(|&preset| match preset {
        Preset::OneYarn => Word::OneYarn,
        Preset::ContrastHeelsToes => Word::ContrastHeelsToes,
        Preset::ContrastCuffsHeelsToes => Word::ContrastCuffsHeelsToes,
        Preset::OneYarnToeUp => Word::OneYarnToeUp,
        Preset::ContrastToeUp => Word::ContrastToeUp,
    });
    list(words, selected)
}

pub(super) fn order_view(selected: u8) -> Shows {
    let words = Order::ALL.iter().map(|&order| match order {
        Order::OneAfterTheOther => Word::OneAfterTheOther,
        Order::TwoAtATime => Word::TwoAtATime,
        Order::OneSock => Word::OneSock,
    });
    list(words, selected)
}

fn list(words: impl Iterator<Item = Word>, selected: u8) -> Shows {
    let items = words.map(|word| Item {
        label: ItemLabel::Word(word),
        value: Value::Nothing,
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
        OnList::Back => app.page = Page::Pan,
        OnList::Highlight(selected) => app.page = Page::Presets { selected },
        OnList::Take => {
            if let Some(&preset) = Preset::ALL.get(usize::from(selected)) {
                app.page = Page::Order { preset, selected: 0 };
            }
        }
        OnList::Nothing => {}
    }
}

pub(super) fn order_press(app: &mut App, press: Press, preset: Preset, selected: u8) {
    match on_list(press, selected, Order::ALL.len()) {
        OnList::Back => app.page = Page::Presets { selected: 0 },
        OnList::Highlight(selected) => app.page = Page::Order { preset, selected },
        OnList::Take => {
            if let Some(&order) = Order::ALL.get(usize::from(selected)) {
                app.begin_pair(preset, order);
            }
        }
        OnList::Nothing => {}
    }
}
