//! The control skein: a little of the same fibre that is never knitted. Weighed beside each mark, it tells what moisture
//! has done to the cakes since the last one.

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, OnList};
use super::keys::{Key, Press};
use super::shows::{Shows, guide, item, list};
use crate::journal::Record;
use crate::measured::Measured;
use crate::screen::{KeyWord, RefusedWord, Value, Word};

/// The page on which the control skein is weighed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct ControlPage {
    /// It asks whether what lies on the pan, of this weight, is the control skein: it may be a cake that was left there.
    asks: Option<(Measured, Highlight)>,
}

/// The first choice does nothing.
const CHOICES: [Word; 2] = [Word::ChoiceNotNow, Word::IsControl];

impl ControlPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        if let Some((weight, highlight)) = &mut self.asks {
            let weight = *weight;
            return match highlight.press(press, CHOICES.len()) {
                Some(OnList::Take(1)) => Actions::note(Record::Control { weight }).and_go(To::Pan),
                Some(OnList::Back | OnList::Take(_)) => {
                    self.asks = None;
                    Actions::none()
                }
                None => Actions::none(),
            };
        }
        match press {
            Press::Short(Key::Zero) => Actions::go(To::Pan),
            Press::Short(Key::Mark) => match context.scale.steady().map(|load| context.net_of(&load)) {
                Some(weight) if weight.value < EMPTY_BELOW => Action::Refuse(RefusedWord::EmptyPan).into(),
                Some(weight) => {
                    self.asks = Some((weight, Highlight::default()));
                    Actions::none()
                }
                None => Action::Refuse(RefusedWord::NotSteady).into(),
            },
            Press::Short(Key::Next) | Press::Down(_) | Press::Held(_) | Press::Again(_) => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        if let Some((weight, highlight)) = self.asks {
            let values = [Value::Nothing, Value::Mass(weight.value)];
            return list(Word::ControlSkein, highlight, &|place| {
                Some(item(*CHOICES.get(place)?, *values.get(place)?))
            });
        }
        let guide = guide(context, Word::ControlSkein, Word::PutOnPan, Value::Nothing);
        (guide, [KeyWord::Back, KeyWord::Take, KeyWord::Nothing])
    }
}
