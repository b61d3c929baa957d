//! In which language the scale speaks: asked at the first start, before all else.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, list};
use crate::journal::{Language, Record, Setting};
use crate::screen::{Item, ItemLabel, Value, Word};

/// The question for the language.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct LanguagePage {
    highlight: Highlight,
}

/// Each by its own name.
const LANGUAGES: [(Language, &str); 2] = [(Language::English, "English"), (Language::German, "Deutsch")];

impl LanguagePage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, LANGUAGES.len()) {
            // Asked again at the next start.
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(row)) => {
                let language = LANGUAGES.get(row).map_or(Language::English, |&(language, _)| language);
                Actions::note(Record::Setting(Setting::Language(language)))
                    .and(Action::Note(Record::Setting(Setting::LanguageAsked(true))))
                    .and_go(To::Pan)
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        list(Word::WhichLanguage, self.highlight, &|place| {
            let &(_, name) = LANGUAGES.get(place)?;
            Some(Item {
                label: ItemLabel::Name(name),
                value: Value::Nothing,
            })
        })
    }
}
