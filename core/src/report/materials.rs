//! A pattern's list of materials: what the pair took by section, and what to allow for the next one.

use core::fmt::{self, Display, Write};

use heapless::Vec;

use super::Background;
use super::leftovers::Rests;
use super::markup::{Else, Grams, Metres, Titled};
use super::pair::Pair;
use super::row::Row;
use super::sections::head;
use super::words::{kind, words};
use crate::forecast::{Answer, Reserve, Rule, Wanted, answer};
use crate::measured::Measured;
use crate::sock::{MAX_LINES, YarnLetter};
use crate::units::Milligrams;

/// The table of a pair of which both socks are marked; sections of which only one is are left out.
pub(super) fn table(out: &mut impl Write, pair: &Pair, rows: &[Row], background: &Background<'_>) -> fmt::Result {
    if !rows.iter().any(|row| row.both().is_some()) {
        return Ok(());
    }
    let words = words(background.language);
    writeln!(out, "<h3>{}</h3>", words.materials)?;
    head(out, words.materials_caption, &words.materials_heads)?;
    for letter in YarnLetter::ALL {
        let of_yarn = || {
            rows.iter()
                .filter(move |row| row.yarn == letter && row.both().is_some())
        };
        if of_yarn().next().is_none() {
            continue;
        }
        out.write_str("<tbody>\n")?;
        for row in of_yarn() {
            let section = kind(row.kind, background.language);
            let name = format_args!("{section}, {} {}", words.yarn, letter.symbol());
            line(out, name, core::iter::once(row), background)?;
        }
        if of_yarn().nth(1).is_some() {
            let yarn = pair.yarns.iter().find(|yarn| yarn.letter == letter);
            let title = Titled(letter, yarn.and_then(|yarn| yarn.name.as_ref()));
            let name = format_args!("<strong>{} {} {title}</strong>", words.together, words.yarn);
            line(out, name, of_yarn(), background)?;
        }
        out.write_str("</tbody>\n")?;
    }
    writeln!(out, "</table>\n<p class=\"note\">{}</p>", words.materials_note)
}

/// A line for one section, or for several in the same yarn.
fn line<'r>(
    out: &mut impl Write,
    name: impl Display,
    rows: impl Iterator<Item = &'r Row> + Clone,
    background: &Background<'_>,
) -> fmt::Result {
    let words = words(background.language);
    let took = rows.clone().filter_map(Row::both).reduce(Measured::plus);
    let wanted: Vec<Wanted, MAX_LINES> = rows.clone().map(Row::wanted).collect();
    let (Some(took), Some(row)) = (took, rows.clone().next()) else {
        return Ok(());
    };
    let length = |mass: Measured| Else(row.length(mass).map(|length| Metres(length, words)), words.not_known);
    write!(
        out,
        "<tr><th scope=\"row\">{name}</th><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">",
        Grams(took.value, words),
        length(took)
    )?;
    let rule = Rule::default();
    let Some(known) = answer(Measured::default(), &wanted, background.history, rule) else {
        return writeln!(out, "{}</td><td></td><td></td><td></td></tr>", words.not_known);
    };
    let reserve = reserve(&known, &wanted, rule);
    let allow = Measured {
        value: took.value + reserve,
        u: 0.0,
    };
    writeln!(
        out,
        "{}</td><td class=\"n\"><strong>{}</strong></td><td class=\"n\">{}</td><td>{}</td></tr>",
        Grams(reserve, words),
        Grams(allow.value, words),
        length(allow),
        Rests(&known, words)
    )
}

/// What to allow beyond what the sections took: the reserve at the rule's confidence and, where it goes by spread, the ends.
/// A quarter over holds them already.
fn reserve(known: &Answer, wanted: &[Wanted], rule: Rule) -> Milligrams {
    let reserve = known.need - known.expected;
    match known.basis.reserve {
        Reserve::Quarter { .. } => reserve,
        Reserve::Spread { .. } => wanted.iter().fold(reserve, |sum, one| {
            let length = one.all_ends().saturating_mul(rule.end_mm.into());
            sum + one.size.yarn.or_usual().mass_of(length)
        }),
    }
}
