//! The tables for a spreadsheet: CSV as RFC 4180 has it, UTF-8, a header first. Whole numbers only, for what marks decimals differs from
//! country to country; uncertainties are standard ones (k = 1), rounded up.

use core::fmt::{self, Write};

use super::calendar::Calendar;
use super::markup::{Else, Field};
use super::pair::Pair;
use super::words::{Words, construction, kind, words};
use crate::journal::Language;
use crate::math::ceil;
use crate::measured::Measured;
use crate::sock::Sock;
use crate::units::Stamp;

/// A steady load that the pan has seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Visit {
    /// When.
    pub at: Stamp,
    /// What it weighed, gross.
    pub gross: Measured,
    /// The bowl's number; 0 without.
    pub bowl: u8,
}

/// The header of the table of sections.
///
/// # Errors
/// Those of `out`.
pub fn sections_header(out: &mut impl Write, language: Language) -> fmt::Result {
    line(out, words(language).section_columns)
}

/// The header of the table of yarns.
///
/// # Errors
/// Those of `out`.
pub fn yarns_header(out: &mut impl Write, language: Language) -> fmt::Result {
    line(out, words(language).yarn_columns)
}

/// The header of the table of visits.
///
/// # Errors
/// Those of `out`.
pub fn visits_header(out: &mut impl Write, language: Language) -> fmt::Result {
    line(out, words(language).visit_columns)
}

fn line(out: &mut impl Write, columns: &str) -> fmt::Result {
    out.write_str(columns)?;
    out.write_str(END)
}

/// A row for each marked section of a pair.
///
/// # Errors
/// Those of `out`.
pub fn sections(out: &mut impl Write, pair: &Pair, calendar: &Calendar, language: Language) -> fmt::Result {
    let words = words(language);
    let name = Field(pair.name.as_deref().unwrap_or_default());
    for section in &pair.sections {
        let (kind, how) = (
            kind(section.line.kind, language),
            construction(section.line.construction, language),
        );
        let sock = match section.line.sock {
            Sock::First => 1,
            Sock::Second => 2,
        };
        write!(
            out,
            "{},{name},{},{kind},{sock},{},{how},{},{},{},",
            pair.number,
            section.place,
            section.line.yarn.symbol(),
            section.line.stitches,
            section.used.value.0,
            up(section.used.u)
        )?;
        let at = section.at;
        write!(out, "{},", Else(at.map(|at| at.0), ""))?;
        when(out, at, calendar)?;
        let flags = [section.amended, section.late, section.doubtful].map(|flag| word(flag, words));
        let [amended, late, doubtful] = flags;
        write!(out, ",{amended},{late},{doubtful}{END}")?;
    }
    Ok(())
}

/// A row for each yarn of a pair.
///
/// # Errors
/// Those of `out`.
pub fn yarns(out: &mut impl Write, pair: &Pair, language: Language) -> fmt::Result {
    let name = Field(pair.name.as_deref().unwrap_or_default());
    for yarn in &pair.yarns {
        let account = yarn.account;
        write!(
            out,
            "{},{name},{},{},{},{},{},{},{},{},{}{END}",
            pair.number,
            yarn.letter.symbol(),
            Field(yarn.name.as_deref().unwrap_or_default()),
            Else((yarn.metres_per_100_g > 0).then_some(yarn.metres_per_100_g), ""),
            account.weighed_in.0,
            account.used.0,
            account.unplanned.0,
            account.left.0,
            up(yarn.left.u),
            word(yarn.doubtful, words(language))
        )?;
    }
    Ok(())
}

/// A row for a visit.
///
/// # Errors
/// Those of `out`.
pub fn visit(out: &mut impl Write, visit: &Visit, calendar: &Calendar) -> fmt::Result {
    write!(out, "{},", visit.at.0)?;
    when(out, Some(visit.at), calendar)?;
    write!(
        out,
        ",{},{},{}{END}",
        visit.gross.value.0,
        up(visit.gross.u),
        visit.bowl
    )
}

/// Seconds since 1970, and the date.
fn when(out: &mut impl Write, at: Option<Stamp>, calendar: &Calendar) -> fmt::Result {
    let unix = at.and_then(|at| calendar.unix(at));
    let date = at.and_then(|at| calendar.date(at));
    write!(out, "{},{}", Else(unix, ""), Else(date, ""))
}

const fn word(flag: bool, words: &'static Words) -> &'static str {
    if flag { words.yes } else { words.no }
}

/// Whole milligrams, rounded up.
fn up(u: f32) -> i32 {
    ceil(u)
}

const END: &str = "\r\n";
