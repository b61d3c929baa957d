//! Every page of the device and every case of it, as pictures. The numbers on them are invented.

mod answers;
mod ask;
mod bench;
mod daily;
mod finished;
mod happened;
mod lists;
mod made;
mod pairs;

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use yarn_scale_core::journal::Language;
use yarn_scale_core::screen::{Body, View};

use crate::device::picture::{Picture, frame_of};
use crate::failure::{BadInput, Failure};
use crate::files;

/// Writes a picture of every page and every case of it, in each language, and sheets of them all.
#[derive(Debug, Args)]
pub struct PagesArgs {
    /// The folder to write into; it must be new, or empty.
    folder: PathBuf,
}

impl PagesArgs {
    /// Does it.
    ///
    /// # Errors
    /// [`Failure::Input`] if a picture cannot be written, [`Failure::Output`] if `out` does not take the count.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        files::new_folder(&self.folder)?;
        let written = write(&self.folder)?;
        writeln!(out, "{written} pictures and 2 sheets in {}", self.folder.display())?;
        Ok(())
    }
}

/// One screen with a name.
#[derive(Clone, Debug)]
pub struct Case {
    /// The page it is a case of.
    pub page: &'static str,
    /// The case.
    pub name: &'static str,
    /// What it shows, in English.
    pub view: View,
}

impl Case {
    /// The screen in a language.
    #[must_use]
    pub fn in_language(&self, language: Language) -> View {
        View {
            language,
            ..self.view.clone()
        }
    }
}

/// The languages and the ends of their file names.
pub const LANGUAGES: [(Language, &str); 2] = [(Language::English, "en"), (Language::German, "de")];

/// How much a picture is enlarged.
pub const SCALE: usize = 4;

/// Every case of every page.
#[must_use]
pub fn cases() -> Vec<Case> {
    let mut cases = Vec::new();
    cases.extend(daily::cases());
    cases.extend(happened::cases());
    cases.extend(ask::cases());
    cases.extend(lists::cases());
    cases.extend(bench::cases());
    cases.extend(pairs::cases());
    cases.extend(answers::cases());
    cases.extend(finished::cases());
    cases
}

/// The page that a body belongs to: no wildcard, so that a new body needs a name, and cases.
#[must_use]
pub fn page_of(body: &Body) -> &'static str {
    match body {
        Body::Dark => "dark",
        Body::Pan(_) => "pan",
        Body::Used(_) => "used",
        Body::Plan(_) => "plan",
        Body::Notice(_) => "notice",
        Body::Question(_) => "question",
        Body::Fault(_) => "fault",
        Body::List(_) => "list",
        Body::Pairs(_) => "pairs",
        Body::PairSummary(_) => "pair-summary",
        Body::Edit(_) => "edit",
        Body::Guide(_) => "guide",
        Body::Answer(_) => "answer",
        Body::Uses(_) => "uses",
        Body::Halve(_) => "halve",
        Body::PairCheck(_) => "pair-check",
        Body::Dry(_) => "dry",
        Body::Signs(_) => "signs",
        Body::Edges => "edges",
    }
}

/// Writes one PNG a case and language into `folder`, and two sheets of them all.
///
/// # Errors
/// When a file cannot be written.
pub fn write(folder: &Path) -> Result<usize, Failure> {
    let cases = cases();
    for (language, ending) in LANGUAGES {
        let mut pictures = Vec::new();
        for case in &cases {
            let picture = Picture::from(&frame_of(&case.in_language(language)));
            let page = folder.join(case.page);
            make_folder(&page)?;
            save(
                &picture.enlarged(SCALE),
                &page.join(format!("{}.{ending}.png", case.name)),
            )?;
            pictures.push((format!("{}/{}", case.page, case.name), picture.enlarged(SHEET_SCALE)));
        }
        save(
            &Picture::sheet(&pictures, ACROSS),
            &folder.join(format!("sheet.{ending}.png")),
        )?;
    }
    Ok(cases.len() * LANGUAGES.len())
}

/// A few screens of an invented pair, as they follow each other, for whoever meets the device first.
///
/// # Panics
/// If there is no case of such a name.
#[must_use]
pub fn first_look() -> Picture {
    let cases = cases();
    let pictures = FIRST_LOOK.map(|(page, name, caption)| {
        let case = cases.iter().find(|case| case.page == page && case.name == name);
        let view = &case.expect("a case of that name").view;
        (
            caption.to_owned(),
            Picture::from(&frame_of(view)).enlarged(FIRST_LOOK_SCALE),
        )
    });
    Picture::sheet(&pictures, FIRST_LOOK.len() / 2)
}

fn make_folder(folder: &Path) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|error| BadInput::of_file(folder, error).into())
}

fn save(picture: &Picture, path: &Path) -> Result<(), Failure> {
    Ok(files::write_with(path, |file| picture.write_png(file))?)
}

/// What [`first_look`] shows: page, case, and what is said of it.
const FIRST_LOOK: [(&str, &str, &str); 6] = [
    ("pan", "steady", "The cake on the pan: what is left, and what has gone."),
    (
        "pan",
        "swinging",
        "A tug on the strand: a hollow number is not trusted.",
    ),
    ("notice", "noted", "MARK: noted, and safe even if the power fails."),
    ("used", "top", "What each section took: sock 1, sock 2, difference."),
    (
        "answer",
        "rest-enough",
        "Will it do for the rest? One word, one number.",
    ),
    ("plan", "cursor", "The plan of the pair; the arrow moves on by itself."),
];

/// How much its pictures are enlarged.
const FIRST_LOOK_SCALE: usize = 3;

/// How much a picture on a sheet is enlarged.
const SHEET_SCALE: usize = 2;

/// Pictures in a row of a sheet.
const ACROSS: usize = 5;
