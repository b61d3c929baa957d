//! Halve: where to stop winding to split a cake into two equal ones, live.

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::forecast::{Winding, halve};
use crate::measured::Measured;
use crate::screen::{Body, Halve, KeyWord, RefusedWord};
use crate::units::Milligrams;

/// One division of the display.
const DIVISION: Milligrams = Milligrams(100);

/// Where to stop winding.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct HalvePage {
    /// The whole cake.
    whole: Option<Measured>,
}

impl HalvePage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match press {
            Press::Short(Key::Zero) => return Actions::go(To::Pan),
            Press::Short(Key::Mark) if self.whole.is_none() => match context.scale.steady() {
                Some(load) if context.net_of(&load).value < EMPTY_BELOW => {
                    return Action::Refuse(RefusedWord::EmptyPan).into();
                }
                Some(load) => self.whole = Some(context.net_of(&load)),
                None => return Action::Refuse(RefusedWord::NotSteady).into(),
            },
            Press::Short(_) | Press::Down(_) | Press::Held(_) | Press::Again(_) => {}
        }
        Actions::none()
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let winding = self
            .whole
            .zip(context.scale.readout().net)
            .map(|(whole, now)| halve(whole, now, false, DIVISION));
        let body = Halve {
            whole: self.whole.map(|whole| whole.value),
            shown: context.scale.shown(),
            to_go: winding.map(|winding| winding.to_go),
            winding: winding.map_or(Winding::GoOn, |winding| winding.word),
            steady: context.scale.steady().is_some(),
        };
        let mark = if self.whole.is_some() {
            KeyWord::Nothing
        } else {
            KeyWord::Take
        };
        (Body::Halve(body), [KeyWord::Back, mark, KeyWord::Nothing])
    }
}
