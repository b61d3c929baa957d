//! The knitter's records, from a scale or a backup of it.

use yarn_scale_core::book::Book;
use yarn_scale_core::forecast::{Reserve, Rule, Socks, Source, Wanted, answer, contrast_sections, wanted};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{SectionKind, YarnLetter};

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
    Ok(on_what(&all_named(names, book)?, book, rule))
}

fn on_what(sections: &[(String, Wanted)], book: &Book, rule: Rule) -> Vec<String> {
    let line = |(name, wanted): &(String, Wanted)| {
        let basis = answer(Measured::default(), &[*wanted], book.history(), rule).map(|answer| answer.basis);
        let pairs = book.history().count(wanted.kind, wanted.construction);
        let on_what = match basis.map(|basis| (basis.source, basis.reserve)) {
            None => "nothing is known; not planned".to_owned(),
            Some((Source::Estimate, _)) => "no records; estimated by stitches and gauge, a reserve of 25 %".to_owned(),
            Some((Source::FirstSock, Reserve::Quarter { .. })) => "as sock 1 took, a reserve of 25 %".to_owned(),
            Some((Source::FirstSock, Reserve::Spread { pairs })) => {
                format!("as sock 1 took, the reserve by records of {pairs} of your pairs")
            }
            Some((_, Reserve::Quarter { .. })) => {
                format!("records of {pairs} of your pairs, too few: a reserve of 25 %")
            }
            Some((_, Reserve::Spread { pairs })) => format!("records of {pairs} of your pairs"),
        };
        format!("{name}: {on_what}")
    };
    sections.iter().map(line).collect()
}

/// What every pair on the needles still needs of contrast sections, or those with these numbers; and on what each number stands, a line each.
///
/// # Errors
/// If no such section is open, or too many are.
pub fn of_open_pairs(pairs: &[u16], book: &Book, rule: Rule) -> Result<(Sections, Vec<String>), Failure> {
    let mut open: Vec<(String, Wanted)> = Vec::new();
    let mut needles = book.needles().clone();
    for pair in needles.numbers() {
        let is_meant = pairs.is_empty() || pairs.contains(&pair);
        if !is_meant || !needles.take_in_hand(pair) || !needles.in_hand().is_open() {
            continue;
        }
        let of_yarn = YarnLetter::ALL
            .into_iter()
            .flat_map(|yarn| wanted(needles.in_hand(), yarn, None));
        let contrast = of_yarn.filter(|wanted| wanted.kind.is_contrast());
        open.extend(contrast.map(|wanted| (format!("{} of pair {pair}", word(wanted)), wanted)));
    }
    if open.is_empty() {
        return Err(Failure::Here(
            "no pair on the needles needs a cuff, heel or toe".to_owned(),
        ));
    }
    let lines = on_what(&open, book, rule);
    open.retain(|(_, wanted)| answer(Measured::default(), &[*wanted], book.history(), rule).is_some());
    let sections = Sections::of_pairs(&open, book.history(), rule);
    let sections = sections.map_err(|_| {
        let count = open.len();
        Failure::Here(format!(
            "{count} sections are open, and {MOST_SECTIONS} can be planned at once: choose with --pair"
        ))
    })?;
    Ok((sections, lines))
}

fn word(wanted: Wanted) -> String {
    let one = match wanted.kind {
        SectionKind::Cuff => "cuff",
        SectionKind::Leg => "leg",
        SectionKind::Heel => "heel",
        SectionKind::Gusset => "gusset",
        SectionKind::Foot => "foot",
        SectionKind::Toe => "toe",
        SectionKind::Part1 => "part 1",
        SectionKind::Part2 => "part 2",
        SectionKind::Part3 => "part 3",
        SectionKind::Part4 => "part 4",
        SectionKind::Part5 => "part 5",
        SectionKind::Part6 => "part 6",
        SectionKind::Part7 => "part 7",
        SectionKind::Part8 => "part 8",
    };
    match wanted.socks {
        Socks::One => one.to_owned(),
        Socks::Both if wanted.kind.is_part() => format!("{one} twice"),
        Socks::Both => format!("{one}s"),
    }
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
