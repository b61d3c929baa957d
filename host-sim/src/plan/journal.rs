//! The knitter's records, from a copy of the scale's journal.

use std::fs;
use std::path::Path;

use yarn_scale_core::app::{App, Configuration, Input};
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::forecast::{Rule, Socks, Wanted};
use yarn_scale_core::journal::{Journal, Replayed, StartCause};
use yarn_scale_core::section::SectionKind;
use yarn_scale_core::units::{FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;

use super::problem::{MOST_SECTIONS, Sections, Unplannable};
use crate::failure::{BadInput, Failure};
use crate::flash::SimFlash;

/// Replays the journal in a file: an image of the flash that holds it. The file is only read.
///
/// # Errors
/// If the file cannot be read, is too large or too small, or holds no journal.
pub fn replay(file: &Path) -> Result<App, Failure> {
    let size = fs::metadata(file)
        .map_err(|fault| BadInput::of_file(file, fault))?
        .len();
    if size > LARGEST_IMAGE {
        return Err(BadInput::of_file(file, "larger than any scale's flash (16 MiB)").into());
    }
    let bytes = fs::read(file).map_err(|fault| BadInput::of_file(file, fault))?;
    let mut flash = SimFlash::with_content(bytes);
    // What was weighed is in the journal; nothing is weighed here.
    let calibration =
        Calibration::straight(FineCounts(0), 1_000.0).map_err(|_| Failure::Here("no scale".to_owned()))?;
    let mut app = App::new(Configuration {
        capacity: Milligrams::from_grams(500),
        rate: SampleRate::Ten,
        calibration,
        calibrated: false,
        version: env!("CARGO_PKG_VERSION"),
    });
    let mut entries = 0_u32;
    let opened = Journal::open(&mut flash, |replayed| match replayed {
        Replayed::Entry(entry) => {
            entries += 1;
            app.handle(Instant(0), Input::Replayed(entry));
        }
        Replayed::Gap { .. } | Replayed::Unreadable { .. } => app.handle(Instant(0), Input::Gap),
    });
    // Only then is the running pair part of her history.
    app.handle(Instant(0), Input::Ready(StartCause::PowerOn));
    opened.map_err(|fault| BadInput::of_file(file, format!("holds no journal: {fault:?}")))?;
    if entries == 0 {
        return Err(BadInput::of_file(file, "holds no journal of a yarn scale").into());
    }
    Ok(app)
}

/// Sections by name, with what the records say of them: `cuffs`, `heels`, `toes` for both socks, `cuff`, `heel`, `toe` for one.
///
/// # Errors
/// A name that is none of those, or too many of them.
pub fn sections(names: &[String], app: &App, rule: Rule) -> Result<Sections, Failure> {
    let known = app.contrast_sections();
    let named: Result<Vec<_>, Failure> = names
        .iter()
        .map(|name| Ok((name.clone(), named(name, &known)?)))
        .collect();
    Sections::from_history(&named?, app.history(), rule).map_err(|fault| match fault {
        Unplannable::TooMany => Failure::Here(format!("at most {MOST_SECTIONS} sections can be planned at once")),
        Unplannable::Unknown => Failure::Here("the journal knows nothing of one of the sections".to_owned()),
    })
}

fn named(name: &str, known: &[Wanted]) -> Result<Wanted, Failure> {
    let (kind, socks) = match name {
        "cuffs" => (SectionKind::Cuff, Socks::Both),
        "cuff" => (SectionKind::Cuff, Socks::One),
        "heels" => (SectionKind::Heel, Socks::Both),
        "heel" => (SectionKind::Heel, Socks::One),
        "toes" => (SectionKind::Toe, Socks::Both),
        "toe" => (SectionKind::Toe, Socks::One),
        _ => {
            let reason =
                format!("section {name}: with a journal, name cuffs, heels, toes or, for one sock, cuff, heel, toe");
            return Err(Failure::Here(reason));
        }
    };
    let section = known.iter().find(|section| section.kind == kind);
    let section = section.ok_or_else(|| Failure::Here(format!("the plan in the journal has no {name}")))?;
    Ok(Wanted { socks, ..*section })
}

/// Flash chips of such devices have 2 to 16 MiB.
const LARGEST_IMAGE: u64 = 16 << 20;
