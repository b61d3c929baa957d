//! A forgotten press made good: an earlier visit becomes the end of a section.

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, list};
use crate::journal::Record;
use crate::recognise::late_marks;
use crate::screen::{Item, ItemLabel, Value, Word};

/// Earlier visits, one of which was the end of a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct VisitsPage {
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
        let visits = late_marks(context.book, self.line);
        match self.highlight.press(press, visits.len()) {
            Some(OnList::Back) => Actions::go(To::Line(self.line)),
            Some(OnList::Take(row)) => visits.get(row).map_or_else(Actions::none, |late| {
                let pair = context.ledger().pair();
                let event = late.event();
                Actions::note(Record::OfPair { pair, event }).and_go(To::Pan)
            }),
            None => Actions::none(),
        }
    }

    /// Each visit with what the section that ended there would have taken, and the one that is marked behind it.
    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let late_marks = late_marks(context.book, self.line);
        // Fewer are kept than a list has rows.
        list(Word::WhichVisit, self.highlight, &|place| {
            let late = late_marks.get(place)?;
            Some(Item {
                label: ItemLabel::MinutesAgo(context.now.0.saturating_sub(late.visited.0) / 60),
                value: match late.then {
                    Some((_, _, then)) => Value::Both(late.used, then),
                    None => Value::Mass(late.used),
                },
            })
        })
    }
}
