//! Screens with names, each taken from what the application shows.

use yarn_scale_core::journal::Language;
use yarn_scale_core::screen::View;

use super::names::{name_of, page_of};
use crate::device::bench::Bench;

/// One screen with a name. It is made here alone, from what a playing application shows: no view is made by hand.
#[derive(Clone, Debug)]
pub struct Case {
    page: &'static str,
    name: &'static str,
    view: View,
}

impl Case {
    /// The page it is a case of.
    #[must_use]
    pub const fn page(&self) -> &'static str {
        self.page
    }

    /// The case.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        self.name
    }

    /// What it shows, in the language in which it was played.
    #[must_use]
    pub const fn view(&self) -> &View {
        &self.view
    }

    /// The screen in a language.
    #[must_use]
    pub fn in_language(&self, language: Language) -> View {
        View {
            language,
            ..self.view.clone()
        }
    }
}

/// The screens of some sequences, in the order in which they were met.
#[derive(Debug, Default)]
pub(super) struct Album(Vec<Case>);

impl Album {
    /// The screen as it is now, as `page/name`.
    ///
    /// # Panics
    /// If the scale is on another page.
    #[track_caller]
    pub(super) fn picture(&mut self, scale: &Bench, place: &'static str) {
        let view = scale.app.view();
        let (page, name) = place.split_once('/').expect("page/name");
        assert_eq!(page, page_of(&view.body), "{place}: {:#?}", view.body);
        self.0.push(Case { page, name, view });
    }

    /// The notice, the fault or the question on the screen, named after what it says.
    ///
    /// # Panics
    /// If there is none.
    #[track_caller]
    pub(super) fn told(&mut self, scale: &Bench) {
        let view = scale.app.view();
        let name = name_of(&view.body);
        let name = name.unwrap_or_else(|| panic!("it tells nothing: {:#?}", view.body));
        let page = page_of(&view.body);
        self.0.push(Case { page, name, view });
    }

    pub(super) fn into_cases(self) -> Vec<Case> {
        self.0
    }
}
