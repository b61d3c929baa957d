//! The bowls: which is on the pan, and a new one tared.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::journal::{Record, Setting};
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::sock::BowlNumber;
use crate::weighing::SteadyLoad;

/// The bowls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BowlsPage {
    highlight: Highlight,
    /// The load that can be tared as a new bowl.
    load: Option<(BowlNumber, SteadyLoad)>,
}

/// A line of the list.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Row {
    None,
    Known(BowlNumber),
    New(BowlNumber, SteadyLoad),
}

impl BowlsPage {
    /// A load that is steady, or was when the finger came, can become a new bowl.
    pub(super) fn open(context: &Context<'_>) -> Self {
        let latched = context.latched.filter(|&(key, _)| key == Key::Zero);
        let steady = latched
            .map(|(_, load)| load)
            .or(context.scale.steady())
            .filter(|load| context.scale.gross(load).value >= EMPTY_BELOW);
        Self {
            highlight: Highlight::default(),
            load: context.book.bowls().free().zip(steady),
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let rows = self.rows(context);
        match self.highlight.press(press, rows.len()) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(row)) => rows.get(row).map_or_else(Actions::none, |row| row.take(context)),
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let items = self.rows(context).into_iter().map(|row| row.item(context));
        let list = List {
            title: Word::WhichBowl,
            // Eleven at the most.
            items: items.collect(),
            selected: self.highlight.0,
        };
        (Body::List(list), LIST_KEYS)
    }

    fn rows(&self, context: &Context<'_>) -> Vec<Row, 11> {
        let new = self.load.map(|(number, load)| Row::New(number, load));
        let known = context.book.bowls().all().map(|(number, _)| Row::Known(number));
        new.into_iter()
            .chain(known)
            .chain(core::iter::once(Row::None))
            .collect()
    }
}

impl Row {
    fn item(self, context: &Context<'_>) -> Item {
        match self {
            Self::None => Item {
                label: ItemLabel::Word(Word::NoBowl),
                value: Value::Nothing,
            },
            Self::Known(number) => Item {
                label: ItemLabel::Bowl(number),
                value: Value::Mass(context.book.bowls().of(Some(number)).value),
            },
            Self::New(number, load) => Item {
                label: ItemLabel::NewBowl(number),
                value: Value::Mass(context.scale.gross(&load).value),
            },
        }
    }

    fn take(self, context: &Context<'_>) -> Actions {
        let (new, bowl) = match self {
            Self::None => (Actions::none(), None),
            Self::Known(number) => (Actions::none(), Some(number)),
            Self::New(number, load) => {
                let mass = context.scale.gross(&load);
                (Actions::note(Record::Bowl { number, mass }), Some(number))
            }
        };
        new.and(Action::Note(Record::Setting(Setting::BowlInUse(bowl))))
            .and_go(To::Pan)
    }
}
