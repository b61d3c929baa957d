//! The knitter's records, from a scale or a backup of it.

use yarn_scale_core::book::Book;
use yarn_scale_core::forecast::{Reserve, Rule, Socks, Source, Wanted, answer, contrast_sections};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::SectionKind;

use super::problem::{MOST_SECTIONS, Sections, Unplannable};
use crate::failure::Failure;

/// Sections by name, with what the records say of them: `cuffs`, `heels`, `toes` for both socks, `cuff`, `heel`, `toe` for one.
///
/// # Errors
/// A name not among those, or too many of them.
pub fn sections(names: &[String], book: &Book, rule: Rule) -> Result<Sections, Failure> {
    Sections::from_history(&all_named(names, book)?, book.history(), rule).map_err(|fault| match fault {
        Unplannable::TooMany => Failure::Here(format!("at most {MOST_SECTIONS} sections can be planned at once")),
        Unplannable::Unknown => {
            Failure::Here("nothing is known of one of these sections yet: give its grams".to_owned())
        }
    })
}

/// On what the numbers of each section stand, a line each.
///
/// # Errors
/// A name that no section has.
pub fn records(names: &[String], book: &Book, rule: Rule) -> Result<Vec<String>, Failure> {
    let line = |(name, wanted): (String, Wanted)| {
        let basis = answer(Measured::default(), &[wanted], book.history(), rule).map(|answer| answer.basis);
        let pairs = book.history().count(wanted.kind, wanted.construction);
        let on_what = match basis.map(|basis| (basis.source, basis.reserve)) {
            None => "nothing is known".to_owned(),
            Some((Source::Estimate, _)) => {
                "no records; estimated by stitches and gauge, a quarter kept in hand".to_owned()
            }
            Some((_, Reserve::Quarter)) => format!("records of {pairs} of your pairs, too few: a quarter kept in hand"),
            Some((_, Reserve::Spread { pairs })) => format!("records of {pairs} of your pairs"),
        };
        format!("{name}: {on_what}")
    };
    Ok(all_named(names, book)?.into_iter().map(line).collect())
}

fn all_named(names: &[String], book: &Book) -> Result<Vec<(String, Wanted)>, Failure> {
    let known = contrast_sections(book.ledger());
    names
        .iter()
        .map(|name| Ok((name.clone(), named(name, &known)?)))
        .collect()
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
