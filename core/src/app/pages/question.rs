//! The scale asks which of a few things is meant.

use super::super::dispatch::App;
use super::super::keys::Press;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::screen::{Body, Question};
use crate::weighing::SteadyLoad;

pub(super) fn view(question: &Question) -> Shows {
    (Body::Question(question.clone()), LIST_KEYS)
}

pub(super) fn press(app: &mut App, press: Press, mut question: Question, load: SteadyLoad) {
    match on_list(press, question.selected, question.choices.len()) {
        OnList::Back => app.page = Page::Pan,
        OnList::Highlight(selected) => {
            question.selected = selected;
            app.page = Page::Question { question, load };
        }
        OnList::Take => {
            app.page = Page::Pan;
            if let Some(&choice) = question.choices.get(usize::from(question.selected)) {
                app.answer(choice, load);
            }
        }
        OnList::Nothing => {}
    }
}
