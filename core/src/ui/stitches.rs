//! The stitches of a round are set.

use super::action::{Actions, To};
use super::context::Context;
use super::keys::Press;
use super::shows::Shows;
use super::stepped::{OnValue, edit, stepped};
use crate::journal::Record;
use crate::screen::{KeyWord, Value, Word};
use crate::sock::Line;

/// Setting the stitches of a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct StitchesPage {
    /// Of which line.
    pub line: u8,
    /// How many; 0 is not known.
    pub stitches: u8,
}

impl StitchesPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let Self { line: index, stitches } = *self;
        let leave = Actions::go(To::Line(index));
        match stepped(press, stitches.into(), 4, (0, 200)) {
            OnValue::Leave => leave,
            OnValue::Done => {
                let section = context.ledger().plan().line(index);
                section.map_or(leave, |section| {
                    let line = Line { stitches, ..section };
                    Actions::note(Record::LineChanged { index, line }).and_go(To::Line(index))
                })
            }
            OnValue::Set(stitches) => {
                self.stitches = u8::try_from(stitches).unwrap_or(0);
                Actions::none()
            }
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        let value = if self.stitches == 0 {
            Value::Word(Word::NotKnown)
        } else {
            Value::Number(self.stitches.into())
        };
        edit(Word::Stitches, value, KeyWord::Ok)
    }
}
