//! The knitter's records, from her scale or a backup of it.

use yarn_scale_core::app::{App, Configuration, Input};
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::forecast::{Rule, Socks, Wanted};
use yarn_scale_core::journal::{Journal, Replayed, StartCause};
use yarn_scale_core::sock::SectionKind;
use yarn_scale_core::units::{FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;

use super::problem::{MOST_SECTIONS, Sections, Unplannable};
use crate::computer::SourceArgs;
use crate::failure::{BadInput, Failure};

/// Replays a journal into the application, as a scale does when it starts. The file or scale is only read.
///
/// # Errors
/// If there is none, it cannot be read, or it holds no record.
pub fn replay(source: &SourceArgs) -> Result<App, Failure> {
    let mut flash = source.flash()?;
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
    let opened = Journal::open(&mut flash, |replayed| {
        entries += u32::from(matches!(replayed, Replayed::Entry(_)));
        app.handle(Instant(0), Input::Replayed(replayed));
    });
    // Only then is the running pair part of her history.
    app.handle(Instant(0), Input::Ready(StartCause::PowerOn));
    if opened.is_err() || entries == 0 {
        let holds_none = "holds no journal of a yarn scale";
        return Err(match &source.file {
            Some(file) => BadInput::of_file(file, holds_none).into(),
            None => Failure::Here(format!("the scale {holds_none}")),
        });
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
