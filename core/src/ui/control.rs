//! The control skein: a little of the same fibre that is never knitted. Weighed beside each mark, it tells what moisture
//! has done to the cakes since the last one.

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::journal::Record;
use crate::screen::{Body, Guide, KeyWord, RefusedWord, Value, Word};

/// The page on which the control skein is weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ControlPage;

impl ControlPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match press {
            Press::Short(Key::Zero) => Actions::go(To::Pan),
            Press::Short(Key::Mark) => match context.scale.steady().map(|load| context.net_of(&load)) {
                Some(weight) if weight.value < EMPTY_BELOW => Action::Refuse(RefusedWord::EmptyPan).into(),
                Some(weight) => Actions::note(Record::Control { weight }).and_go(To::Pan),
                None => Action::Refuse(RefusedWord::NotSteady).into(),
            },
            Press::Short(Key::Next) | Press::Down(_) | Press::Held(_) | Press::Again(_) => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let guide = Guide {
            title: Word::ControlSkein,
            say: Word::PutOnPan,
            value: Value::Nothing,
            steady: context.scale.steady().is_some(),
        };
        (Body::Guide(guide), [KeyWord::Back, KeyWord::Take, KeyWord::Nothing])
    }
}
