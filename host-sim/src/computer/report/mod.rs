//! `report`: what a scale knows of the pairs as one page to keep, print or send.

mod chart;
mod demo;
mod leftovers;
mod markup;
mod materials;
mod page;
mod row;
mod sections;
mod yarns;

use std::io::Write;
use std::path::PathBuf;

use clap::Args;

use super::backup::Backup;
use super::damage::Damage;
use super::source::SourceArgs;
use super::story::Story;
use crate::failure::Failure;
use crate::files;

/// Writes a page (HTML) of the pairs: what each section took, what is left and what for, and a pattern's materials.
///
/// Everything is in one file, and nothing is fetched.
#[derive(Debug, Args)]
pub struct ReportArgs {
    /// The file to write; it must not be there yet.
    to: PathBuf,
    /// Only the pair of this number.
    #[arg(long)]
    pair: Option<u16>,
    /// An invented journal, marked as such, in place of a scale's.
    #[arg(long, conflicts_with_all = ["device", "file"])]
    demo: bool,
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
        let page = report(&backup, self.pair, self.demo)?;
        files::write_new(&self.to, page.as_bytes())?;
        writeln!(out, "{}", self.to.display())?;
        Damage::of(&backup).told()
    }
}

/// The page of a backup: of all its pairs, the newest first, or of one alone. `invented` says so on the page.
///
/// # Errors
/// If there is no such pair, or none at all, or a chart cannot be drawn.
pub fn report(backup: &Backup, only: Option<u16>, invented: bool) -> Result<String, Failure> {
    let mut story = Story::of(backup);
    story.pairs.reverse();
    story.pairs.retain(|pair| only.is_none_or(|only| only == pair.number));
    if story.pairs.is_empty() {
        return Err(Failure::Here(match only {
            Some(number) => format!("the journal has no pair {number}"),
            None => "the journal has no pair yet".to_owned(),
        }));
    }
    page::page(&story, invented)
}
