//! The stitches of a round are set.

use super::action::{Actions, To};
use super::context::Context;
use super::keys::{Key, Press};
use super::shows::Shows;
use super::stepped::stepped;
use crate::journal::Record;
use crate::screen::{Body, Edit, KeyWord, Value, Word};
use crate::sock::Line;

/// Setting the stitches of a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StitchesPage {
    /// Of which line.
    pub line: u8,
    /// How many; 0 is not known.
    pub stitches: u8,
}

impl StitchesPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let Self { line: index, stitches } = *self;
        let leave = Actions::go(To::Line(index));
        match press {
            Press::Held(Key::Mark) => leave,
            Press::Short(Key::Mark) => {
                let section = context.ledger().plan().line(index);
                section.map_or(leave, |section| {
                    let line = Line { stitches, ..section };
                    Actions::note(Record::LineChanged { index, line }).and_go(To::Line(index))
                })
            }
            Press::Short(Key::Zero | Key::Next)
            | Press::Held(Key::Zero | Key::Next)
            | Press::Down(_)
            | Press::Again(_) => {
                let stitches = stepped(press, stitches.into(), 4).clamp(0, 200);
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
        let edit = Edit {
            title: Word::Stitches,
            value,
            hint: Some(Word::HoldMarkToLeave),
        };
        (Body::Edit(edit), [KeyWord::Less, KeyWord::Ok, KeyWord::More])
    }
}
