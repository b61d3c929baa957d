//! The scale asks which of a few things is meant.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::screen::{Body, Question};
use crate::weighing::SteadyLoad;

/// A question, and the load that it is about.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct QuestionPage {
    /// What it asks.
    pub question: Question,
    /// The load that it is about, if it is about one.
    pub load: Option<SteadyLoad>,
}

impl QuestionPage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        let mut highlight = Highlight(self.question.selected);
        let pressed = highlight.press(press, self.question.choices.len());
        self.question.selected = highlight.0;
        match pressed {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(row)) => {
                let answer = self.question.choices.get(row);
                answer.map_or_else(
                    || Actions::go(To::Pan),
                    |&choice| Actions::go(To::Pan).and(Action::Answer(choice, self.load)),
                )
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        (Body::Question(self.question.clone()), LIST_KEYS)
    }
}
