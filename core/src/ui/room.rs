//! Making room where the memory is nearly full: the oldest finished pairs go. Asked twice, and the first choice does nothing.

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, item, list};
use crate::journal::{Record, Setting};
use crate::screen::{Item, Value, Word};

/// Making room.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct RoomPage {
    /// It was asked once.
    again: bool,
    highlight: Highlight,
}

impl RoomPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let rows = if context.health.room.is_some() { 2 } else { 1 };
        match (self.highlight.press(press, rows), context.health.room) {
            (None, _) => Actions::none(),
            (Some(OnList::Take(1)), Some(_)) if !self.again => {
                *self = Self {
                    again: true,
                    ..Self::default()
                };
                Actions::none()
            }
            (Some(OnList::Take(1)), Some(room)) => {
                // Behind it the page says how full the memory is then.
                *self = Self::default();
                Actions::note(Record::Setting(Setting::KeptFrom(room.from)))
            }
            (Some(OnList::Back | OnList::Take(_)), _) => Actions::go(To::Everything),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let percent = context.health.journal_percent.unwrap_or_default();
        let rows = match (context.health.room, self.again) {
            (None, _) => [
                Some(item(Word::JournalUsed, Value::Quantity(percent.into(), Word::Percent))),
                None,
            ],
            (Some(room), false) => asked(item(Word::OldestPairsGo, Value::Number(room.pairs.into()))),
            (Some(room), true) => asked(item(Word::GoneUpToPair, Value::Number(room.newest.into()))),
        };
        let title = if self.again { Word::BackedUp } else { Word::MakeRoom };
        list(title, self.highlight, &|place| *rows.get(place)?)
    }
}

const fn asked(what: Item) -> [Option<Item>; 2] {
    [Some(item(Word::ChoiceNotNow, Value::Nothing)), Some(what)]
}
