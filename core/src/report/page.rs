//! The page as a whole, part by part.

use core::fmt::{self, Write};

use super::Background;
use super::calendar::Date;
use super::markup::Foreign;
use super::packed::STYLE;
use super::pair::Pair;
use super::row::Row;
use super::words::words;
use super::{leftovers, materials, sections, yarns};
use crate::journal::Language;

/// A part of what the page tells of a pair: little enough to be made up again for each piece of it that is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Its heading, and the chart of its sections.
    Chart,
    /// The table of its sections.
    Sections,
    /// The chart of its yarns.
    YarnChart,
    /// The table of its yarns.
    Yarns,
    /// What one of its yarns is good for, by the place of the yarn.
    Leftover(u8),
    /// The list of materials, and the end.
    Materials,
}

/// Parts of a pair.
pub const PARTS: u16 = 13;

impl Part {
    /// The part at a place; `None` from [`PARTS`] on.
    #[must_use]
    pub fn nth(place: u16) -> Option<Self> {
        match place {
            0 => Some(Self::Chart),
            1 => Some(Self::Sections),
            2 => Some(Self::YarnChart),
            3 => Some(Self::Yarns),
            4..=11 => u8::try_from(place.saturating_sub(4)).ok().map(Self::Leftover),
            12 => Some(Self::Materials),
            _ => None,
        }
    }
}

/// Begins the page.
///
/// # Errors
/// Those of `out`.
pub fn begin(out: &mut impl Write, language: Language) -> fmt::Result {
    let words = words(language);
    write!(
        out,
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n{HEAD}<title>{}</title>\n<style>\n",
        words.tag, words.title
    )?;
    for byte in STYLE.text() {
        out.write_char(char::from(byte))?;
    }
    write!(
        out,
        "</style>\n</head>\n<body>\n{HATCH}<header>\n<h1>{}</h1>\n<p>{}</p>\n",
        words.title, words.introduction
    )
}

/// Behind the beginning: on a page of invented pairs.
///
/// # Errors
/// Those of `out`.
pub fn invented(out: &mut impl Write, language: Language) -> fmt::Result {
    writeln!(out, "<p class=\"invented\">{}</p>", words(language).invented)
}

/// Behind the beginning: on the drive, what else there is, and of when.
///
/// # Errors
/// Those of `out`.
pub fn on_the_drive(
    out: &mut impl Write,
    (shown, older): (usize, usize),
    date: Option<Date>,
    language: Language,
) -> fmt::Result {
    let words = words(language);
    match date {
        Some(date) => write!(out, "<p class=\"note\">{} {date} UTC; ", words.state_of)?,
        None => write!(out, "<p class=\"note\">{}; ", words.state_unknown)?,
    }
    writeln!(out, "{}</p>", words.other_files)?;
    if older > 0 {
        writeln!(
            out,
            "<p class=\"note\">{} {older} {}</p>",
            words.older, words.older_behind
        )?;
    }
    if shown == 0 {
        writeln!(out, "<p>{}</p>", words.no_pair)?;
    }
    Ok(())
}

/// Behind that: begins the links to the pairs.
///
/// # Errors
/// Those of `out`.
pub fn begin_links(out: &mut impl Write, language: Language) -> fmt::Result {
    write!(out, "</header>\n<nav aria-label=\"{}\"><ul>\n", words(language).pairs)
}

/// A link to a pair.
///
/// # Errors
/// Those of `out`.
pub fn link(out: &mut impl Write, number: u16, pair_name: Option<&str>, language: Language) -> fmt::Result {
    write!(out, "<li><a href=\"#pair-{number}\">")?;
    name(out, number, pair_name, language)?;
    out.write_str("</a></li>\n")
}

/// Ends the links; the pairs follow.
///
/// # Errors
/// Those of `out`.
pub fn end_links(out: &mut impl Write) -> fmt::Result {
    out.write_str("</ul></nav>\n<main>\n")
}

/// Writes a part of what is told of a pair.
///
/// # Errors
/// Those of `out`.
pub fn part(out: &mut impl Write, pair: &Pair, part: Part, background: &Background<'_>) -> fmt::Result {
    let language = background.language;
    let words = words(language);
    let rows = Row::all(pair);
    match part {
        Part::Chart => {
            write!(out, "<article id=\"pair-{}\">\n<h2>", pair.number)?;
            name(out, pair.number, pair.name.as_deref(), language)?;
            out.write_str("</h2>\n")?;
            if rows.is_empty() {
                return writeln!(out, "<p>{}</p>", words.no_section);
            }
            sections::draw(out, pair.number, &rows, language)
        }
        Part::Sections if rows.is_empty() => Ok(()),
        Part::Sections => sections::table(out, &rows, language),
        Part::YarnChart if pair.yarns.is_empty() => writeln!(out, "<p class=\"note\">{}</p>", words.only_sections),
        Part::YarnChart => {
            writeln!(out, "<h3>{}</h3>", words.yarn_left)?;
            yarns::draw(out, pair, background.calendar, language)
        }
        Part::Yarns if pair.yarns.is_empty() => Ok(()),
        Part::Yarns => yarns::table(out, pair, language),
        Part::Leftover(place) => {
            let yarn = pair.yarns.get(usize::from(place));
            yarn.map_or(Ok(()), |yarn| leftovers::table(out, yarn, background))
        }
        Part::Materials => {
            materials::table(out, pair, &rows, background)?;
            out.write_str("</article>\n")
        }
    }
}

/// Ends the page.
///
/// # Errors
/// Those of `out`.
pub fn end(out: &mut impl Write, language: Language) -> fmt::Result {
    let foot = words(language).foot;
    writeln!(out, "</main>\n<footer><p>{foot}</p></footer>\n</body>\n</html>")
}

fn name(out: &mut impl Write, number: u16, name: Option<&str>, language: Language) -> fmt::Result {
    write!(out, "{} {number}", words(language).pair)?;
    name.map_or(Ok(()), |name| write!(out, ": {}", Foreign(name)))
}

// The policy forbids every request, whatever a name may have smuggled in.
const HEAD: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
     <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
     <meta name=\"color-scheme\" content=\"light dark\">\n";

/// The pattern of sock 2, for all charts of the page.
const HATCH: &str = "<svg class=\"defs\" aria-hidden=\"true\"><defs><pattern id=\"hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\" \
     patternTransform=\"rotate(45)\"><rect width=\"6\" height=\"6\" fill=\"var(--paper)\"/><rect width=\"2.5\" height=\"6\" fill=\"var(--yarn)\"/>\
     </pattern></defs></svg>\n";
