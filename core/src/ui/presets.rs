//! A plan to begin a pair with: which sections in which yarn, then in which order the socks are knitted.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::sock::{Order, Preset};

/// Which sections in which yarn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PresetsPage {
    highlight: Highlight,
}

/// In which order the socks are knitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OrderPage {
    preset: Preset,
    highlight: Highlight,
}

impl PresetsPage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, Preset::ALL.len()) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(row)) => {
                let preset = Preset::ALL.get(row);
                preset.map_or_else(Actions::none, |&preset| Actions::go(To::Order(preset)))
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        let words = Preset::ALL.iter().map(|&preset| match preset {
            Preset::OneYarn => Word::OneYarn,
            Preset::ContrastHeelsToes => Word::ContrastHeelsToes,
            Preset::ContrastCuffsHeelsToes => Word::ContrastCuffsHeelsToes,
            Preset::OneYarnToeUp => Word::OneYarnToeUp,
            Preset::ContrastToeUp => Word::ContrastToeUp,
        });
        list(words, self.highlight)
    }
}

impl OrderPage {
    pub(super) fn of(preset: Preset) -> Self {
        Self {
            preset,
            highlight: Highlight::default(),
        }
    }

    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, Order::ALL.len()) {
            Some(OnList::Back) => Actions::go(To::Presets),
            Some(OnList::Take(row)) => {
                let order = Order::ALL.get(row);
                order.map_or_else(Actions::none, |&order| Action::BeginPair(self.preset, order).into())
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        let words = Order::ALL.iter().map(|&order| match order {
            Order::OneAfterTheOther => Word::OneAfterTheOther,
            Order::TwoAtATime => Word::TwoAtATime,
            Order::OneSock => Word::OneSock,
        });
        list(words, self.highlight)
    }
}

fn list(words: impl Iterator<Item = Word>, highlight: Highlight) -> Shows {
    let items = words.map(|word| Item {
        label: ItemLabel::Word(word),
        value: Value::Nothing,
    });
    let list = List {
        title: Word::NewPair,
        items: items.collect(),
        selected: highlight.0,
    };
    (Body::List(list), LIST_KEYS)
}
