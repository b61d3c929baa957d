//! The knitter's records, from a scale or a backup of it.

use yarn_scale_core::book::Book;
use yarn_scale_core::forecast::{Rule, Socks, Wanted, contrast_sections};
use yarn_scale_core::sock::SectionKind;

use super::problem::{MOST_SECTIONS, Sections, Unplannable};
use crate::failure::Failure;

/// Sections by name, with what the records say of them: `cuffs`, `heels`, `toes` for both socks, `cuff`, `heel`, `toe` for one.
///
/// # Errors
/// A name not among those, or too many of them.
pub fn sections(names: &[String], book: &Book, rule: Rule) -> Result<Sections, Failure> {
    let known = contrast_sections(book.ledger());
    let named: Result<Vec<_>, Failure> = names
        .iter()
        .map(|name| Ok((name.clone(), named(name, &known)?)))
        .collect();
    Sections::from_history(&named?, book.history(), rule).map_err(|fault| match fault {
        Unplannable::TooMany => Failure::Here(format!("at most {MOST_SECTIONS} sections can be planned at once")),
        Unplannable::Unknown => {
            Failure::Here("nothing is known of one of these sections yet: give its grams".to_owned())
        }
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
