//! Every page of the device and every case of it, as pictures, made by playing to them on the [bench](crate::device::bench): an invented
//! knitter puts cakes on, presses keys and lets days pass, and pictures are taken on the way of what the application then shows.

mod album;
mod answers;
mod ask;
mod bench_check;
mod calibration;
mod device;
mod finished;
mod hands;
mod names;
mod pair;
mod put_right;
mod refused;
mod several;

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use clap::Args;
use yarn_scale_core::journal::Language;

use album::Album;
pub use album::Case;
pub use names::page_of;

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

/// The languages and the ends of their file names.
pub const LANGUAGES: [(Language, &str); 2] = [(Language::English, "en"), (Language::German, "de")];

/// How much a picture is enlarged.
pub const SCALE: usize = 4;

/// Every case of every page, played once.
#[must_use]
pub fn cases() -> &'static [Case] {
    static CASES: OnceLock<Vec<Case>> = OnceLock::new();
    CASES.get_or_init(|| {
        let mut album = Album::default();
        let finished = pair::knit(&mut album);
        finished::weigh(&mut album, &finished);
        for play in PLAYS {
            play(&mut album);
        }
        album.into_cases()
    })
}

/// What else is played, each from a scale of its own.
const PLAYS: [fn(&mut Album); 8] = [
    ask::ask,
    put_right::put_right,
    refused::refused,
    several::several,
    answers::answers,
    calibration::calibrate,
    bench_check::check,
    device::device,
];

/// Writes one PNG a case and language into `folder`, and two sheets of them all.
///
/// # Errors
/// When a file cannot be written.
pub fn write(folder: &Path) -> Result<usize, Failure> {
    let cases = cases();
    for (language, ending) in LANGUAGES {
        let mut pictures = Vec::new();
        for case in cases {
            let picture = Picture::from(&frame_of(&case.in_language(language)));
            let page = folder.join(case.page());
            make_folder(&page)?;
            save(
                &picture.enlarged(SCALE),
                &page.join(format!("{}.{ending}.png", case.name())),
            )?;
            pictures.push((
                format!("{}/{}", case.page(), case.name()),
                picture.enlarged(SHEET_SCALE),
            ));
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
        let case = cases.iter().find(|case| case.page() == page && case.name() == name);
        let view = case.expect("a case of that name").view();
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
