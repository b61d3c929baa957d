//! `report`: what a scale knows of the pairs as one page to keep, print or send.

pub(crate) mod demo;

use std::fmt;
use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use yarn_scale_core::forecast::contrast_sections;
use yarn_scale_core::journal::Language;
use yarn_scale_core::report::{Background, PARTS, Pair, Part, page};

use super::backup::Backup;
use super::damage::Damage;
use super::language::LanguageArgs;
use super::source::SourceArgs;
use super::story::Story;
use crate::failure::Failure;
use crate::files;

/// Writes one HTML page that works offline: what each section used, what is left and what it is enough for, and a pattern's yarn.
#[derive(Debug, Args)]
pub struct ReportArgs {
    /// The file to write; it must not exist yet.
    to: PathBuf,
    /// Only the pair of this number.
    #[arg(long)]
    pair: Option<u16>,
    /// Shows invented pairs, marked as such, instead of your own.
    #[arg(long, conflicts_with_all = ["device", "file"])]
    demo: bool,
    #[command(flatten)]
    language: LanguageArgs,
    #[command(flatten)]
    source: SourceArgs,
}

impl ReportArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let backup = if self.demo {
            demo::backup()?
        } else {
            self.source.backup()?
        };
        let story = Story::of(&backup);
        let page = page_of(&story, self.pair, self.demo, self.language.of(&story))?;
        files::write_new(&self.to, page.as_bytes())?;
        writeln!(out, "{}", self.to.display())?;
        Damage::of(&backup).told()
    }
}

/// The page of a backup in the scale's own language: of all its pairs, the newest first, or of one alone. `invented` says so on the page.
///
/// # Errors
/// If there is no such pair, or none at all.
pub fn report(backup: &Backup, only: Option<u16>, invented: bool) -> Result<String, Failure> {
    let story = Story::of(backup);
    page_of(&story, only, invented, story.book.settings().language)
}

fn page_of(story: &Story, only: Option<u16>, invented: bool, language: Language) -> Result<String, Failure> {
    let pairs = || {
        let pairs = story.pairs.iter().rev();
        pairs.filter(move |pair| only.is_none_or(|only| only == pair.number))
    };
    if pairs().next().is_none() {
        return Err(Failure::Here(match only {
            Some(number) => format!("the journal has no pair {number}"),
            None => "the journal has no pair yet".to_owned(),
        }));
    }
    let contrast = contrast_sections(story.book.ledger());
    let background = Background {
        history: story.book.history(),
        contrast: &contrast,
        calendar: &story.calendar,
        language,
    };
    let mut html = String::new();
    write_page(&mut html, pairs, &background, invented)
        .map_err(|_| Failure::Here("the page cannot be written".to_owned()))?;
    Ok(html)
}

fn write_page<'p, P: Iterator<Item = &'p Pair>>(
    html: &mut String,
    pairs: impl Fn() -> P,
    background: &Background<'_>,
    invented: bool,
) -> fmt::Result {
    let language = background.language;
    page::begin(html, language)?;
    if invented {
        page::invented(html, language)?;
    }
    page::begin_links(html, language)?;
    for pair in pairs() {
        page::link(html, pair.number, pair.name.as_deref(), language)?;
    }
    page::end_links(html)?;
    for pair in pairs() {
        for part in (0..PARTS).filter_map(Part::nth) {
            page::part(html, pair, part, background)?;
        }
    }
    page::end(html, language)
}
