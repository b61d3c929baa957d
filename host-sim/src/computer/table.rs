//! `table`: sections, yarns or weighings as CSV (RFC 4180) or JSON.

use std::io::Write;

use clap::{Args, ValueEnum};
use serde::Serialize;
use yarn_scale_core::journal::Language;
use yarn_scale_core::report::tables::{self, Visit};
use yarn_scale_core::report::{Pair, Section, Yarn, construction_name, kind_name};
use yarn_scale_core::sock::Sock;
use yarn_scale_core::units::Stamp;

use super::damage::Damage;
use super::language::LanguageArgs;
use super::source::SourceArgs;
use super::story::Story;
use crate::failure::Failure;

/// Prints what the scale remembers as a table: sections (the default), yarns or weighings. The scale's own drive holds the same tables.
///
/// Sections: pair, name, place in the plan, section, sock (1 or 2), yarn, construction, stitches (0 unknown), `used_mg`, `u_mg` (standard
/// uncertainty, k = 1, rounded up), `at_s` (device's clock, empty for old pairs), `utc_s` (seconds since 1970, empty where the clock was not
/// known), `utc` (the same as a date), amended, late, doubtful. Yarns: pair, name, yarn, its name, metres of 100 g, `weighed_in_mg`, `used_mg`,
/// `elsewhere_mg`, `left_mg`, `u_mg` of that, doubtful. Weighings: `at_s`, `utc_s`, `utc`, `gross_mg`, `u_mg`, bowl (0 none).
#[derive(Debug, Args)]
pub struct TableArgs {
    /// What to print.
    #[arg(value_enum, default_value_t = What::Sections)]
    what: What,
    /// JSON instead of CSV.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    language: LanguageArgs,
    #[command(flatten)]
    source: SourceArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum What {
    Sections,
    Yarns,
    /// Every steady load that the pan has seen, marked or not.
    #[value(alias = "visits")]
    Weighings,
}

/// A row of the sections' table.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct SectionRow<'s> {
    pair: u16,
    name: &'s str,
    place: u8,
    section: &'static str,
    sock: u8,
    yarn: char,
    construction: &'static str,
    stitches: u8,
    used_mg: i32,
    u_mg: f32,
    at_s: Option<u32>,
    utc_s: Option<u64>,
    utc: Option<String>,
    amended: bool,
    late: bool,
    doubtful: bool,
}

/// A row of the yarns' table.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct YarnRow<'s> {
    pair: u16,
    name: &'s str,
    yarn: char,
    yarn_name: &'s str,
    m_per_100_g: Option<u16>,
    weighed_in_mg: i32,
    used_mg: i32,
    elsewhere_mg: i32,
    left_mg: i32,
    u_mg: f32,
    doubtful: bool,
}

/// A row of the visits' table.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct VisitRow {
    at_s: u32,
    utc_s: Option<u64>,
    utc: Option<String>,
    gross_mg: i32,
    u_mg: f32,
    bowl: u8,
}

impl TableArgs {
    /// Prints it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let backup = self.source.backup()?;
        let story = Story::of(&backup);
        let language = self.language.of(&story);
        if self.json {
            self.print_json(&story, language, &mut out)?;
        } else {
            out.write_all(self.csv(&story, language).as_bytes())?;
        }
        Damage::of(&backup).told()
    }

    fn csv(&self, story: &Story, language: Language) -> String {
        let mut text = String::new();
        let calendar = &story.calendar;
        // Writing into a string does not fail.
        let _ = match self.what {
            What::Sections => tables::sections_header(&mut text, language).and_then(|()| {
                let mut pairs = story.pairs.iter();
                pairs.try_for_each(|pair| tables::sections(&mut text, pair, calendar, language))
            }),
            What::Yarns => tables::yarns_header(&mut text, language).and_then(|()| {
                let mut pairs = story.pairs.iter();
                pairs.try_for_each(|pair| tables::yarns(&mut text, pair, language))
            }),
            What::Weighings => tables::visits_header(&mut text, language).and_then(|()| {
                let mut visits = story.visits.iter();
                visits.try_for_each(|visit| tables::visit(&mut text, visit, calendar))
            }),
        };
        text
    }

    fn print_json(&self, story: &Story, language: Language, mut out: impl Write) -> Result<(), Failure> {
        let pairs = || story.pairs.iter();
        let printed = match self.what {
            What::Sections => {
                let rows = pairs().flat_map(|pair| {
                    let rows = pair.sections.iter();
                    rows.map(move |section| section_row(story, pair, section, language))
                });
                serde_json::to_writer_pretty(&mut out, &rows.collect::<Vec<_>>())
            }
            What::Yarns => {
                let rows = pairs().flat_map(|pair| pair.yarns.iter().map(move |yarn| yarn_row(pair, yarn)));
                serde_json::to_writer_pretty(&mut out, &rows.collect::<Vec<_>>())
            }
            What::Weighings => {
                let rows = story.visits.iter().map(|visit| visit_row(story, visit));
                serde_json::to_writer_pretty(&mut out, &rows.collect::<Vec<_>>())
            }
        };
        printed.map_err(std::io::Error::from)?;
        writeln!(out)?;
        Ok(())
    }
}

fn section_row<'s>(story: &Story, pair: &'s Pair, section: &Section, language: Language) -> SectionRow<'s> {
    SectionRow {
        pair: pair.number,
        name: pair.name.as_deref().unwrap_or_default(),
        place: section.place,
        section: kind_name(section.line.kind, language),
        sock: match section.line.sock {
            Sock::First => 1,
            Sock::Second => 2,
        },
        yarn: section.line.yarn.symbol(),
        construction: construction_name(section.line.construction, language),
        stitches: section.line.stitches,
        used_mg: section.used.value.0,
        u_mg: section.used.u,
        at_s: section.at.map(|at| at.0),
        utc_s: section.at.and_then(|at| story.calendar.unix(at)),
        utc: section.at.and_then(|at| date(story, at)),
        amended: section.amended,
        late: section.late,
        doubtful: section.doubtful,
    }
}

fn yarn_row<'s>(pair: &'s Pair, yarn: &'s Yarn) -> YarnRow<'s> {
    YarnRow {
        pair: pair.number,
        name: pair.name.as_deref().unwrap_or_default(),
        yarn: yarn.letter.symbol(),
        yarn_name: yarn.name.as_deref().unwrap_or_default(),
        m_per_100_g: (yarn.metres_per_100_g > 0).then_some(yarn.metres_per_100_g),
        weighed_in_mg: yarn.account.weighed_in.0,
        used_mg: yarn.account.used.0,
        elsewhere_mg: yarn.account.unplanned.0,
        left_mg: yarn.account.left.0,
        u_mg: yarn.left.u,
        doubtful: yarn.doubtful,
    }
}

fn visit_row(story: &Story, visit: &Visit) -> VisitRow {
    VisitRow {
        at_s: visit.at.0,
        utc_s: story.calendar.unix(visit.at),
        utc: date(story, visit.at),
        gross_mg: visit.gross.value.0,
        u_mg: visit.gross.u,
        bowl: visit.bowl,
    }
}

fn date(story: &Story, at: Stamp) -> Option<String> {
    story.calendar.date(at).map(|date| date.to_string())
}
