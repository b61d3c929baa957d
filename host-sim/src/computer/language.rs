//! In which language tables and pages are.

use clap::{Args, ValueEnum};
use yarn_scale_core::journal::Language;

use super::story::Story;

/// In which language.
#[derive(Clone, Copy, Debug, Default, Args)]
pub(super) struct LanguageArgs {
    /// The language of what is written; if left out, the scale's own.
    #[arg(long, value_enum)]
    language: Option<Chosen>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Chosen {
    #[value(name = "en")]
    English,
    #[value(name = "de")]
    German,
}

impl LanguageArgs {
    /// The language for what is told of a scale.
    pub(super) fn of(self, story: &Story) -> Language {
        match self.language {
            Some(Chosen::English) => Language::English,
            Some(Chosen::German) => Language::German,
            None => story.book.settings().language,
        }
    }
}
