//! `table`: sections or visits as CSV (RFC 4180) or JSON.

use std::io::Write;

use clap::{Args, ValueEnum};
use serde::Serialize;
use yarn_scale_core::sock::{Construction, HeelConstruction, Ribbing, SectionKind, Sock, ToeConstruction};

use super::damage::Damage;
use super::source::SourceArgs;
use super::story::{Pair, Section, Story, Visit};
use crate::failure::Failure;

/// Prints what the scale holds as a table: sections (the default) or visits.
///
/// Sections: pair, name, place in the plan, section, sock (1 or 2), yarn, construction, stitches (0 unknown), `used_mg`, `u_mg` (standard
/// uncertainty, k = 1), `at_s` (device's clock, empty for old pairs), `utc_s` (seconds since 1970, empty where the clock was not set),
/// amended, late, doubtful. Visits: `at_s`, `utc_s`, `gross_mg`, `u_mg`, bowl (0 none).
#[derive(Debug, Args)]
pub struct TableArgs {
    /// What to print.
    #[arg(value_enum, default_value_t = What::Sections)]
    what: What,
    /// JSON instead of CSV.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    source: SourceArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum What {
    Sections,
    Visits,
}

/// What the columns of a table are called: its first line, also where no row follows.
trait Row: Serialize {
    /// The names of its fields, in order.
    const COLUMNS: &[&str];
}

impl Row for SectionRow {
    const COLUMNS: &[&str] = &[
        "pair",
        "name",
        "place",
        "section",
        "sock",
        "yarn",
        "construction",
        "stitches",
        "used_mg",
        "u_mg",
        "at_s",
        "utc_s",
        "amended",
        "late",
        "doubtful",
    ];
}

impl Row for VisitRow {
    const COLUMNS: &[&str] = &["at_s", "utc_s", "gross_mg", "u_mg", "bowl"];
}

/// A row of the sections' table.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct SectionRow {
    pair: u16,
    name: String,
    place: usize,
    section: &'static str,
    sock: u8,
    yarn: char,
    construction: &'static str,
    stitches: u8,
    used_mg: i32,
    u_mg: f32,
    at_s: Option<u32>,
    utc_s: Option<u64>,
    amended: bool,
    late: bool,
    doubtful: bool,
}

/// A row of the visits' table.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct VisitRow {
    at_s: u32,
    utc_s: Option<u64>,
    gross_mg: i32,
    u_mg: f32,
    bowl: u8,
}

impl TableArgs {
    /// Prints it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, out: impl Write) -> Result<(), Failure> {
        let backup = self.source.backup()?;
        let story = Story::of(&backup);
        match self.what {
            What::Sections => {
                let rows = story.pairs.iter().flat_map(|pair| {
                    let rows = pair.sections.iter();
                    rows.map(|section| section_row(&story, pair, section))
                });
                print(rows, self.json, out)?;
            }
            What::Visits => print(
                story.visits.iter().map(|visit| visit_row(&story, visit)),
                self.json,
                out,
            )?,
        }
        Damage::of(&backup).told()
    }
}

fn print<R: Row>(rows: impl Iterator<Item = R>, json: bool, mut out: impl Write) -> Result<(), Failure> {
    if json {
        let rows: Vec<R> = rows.collect();
        serde_json::to_writer_pretty(&mut out, &rows).map_err(std::io::Error::from)?;
        writeln!(out)?;
        return Ok(());
    }
    // RFC 4180: lines end in CR LF, fields with commas, quotes or line ends are quoted.
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .has_headers(false)
        .from_writer(out);
    writer.write_record(R::COLUMNS).map_err(std::io::Error::other)?;
    for row in rows {
        writer.serialize(row).map_err(std::io::Error::other)?;
    }
    writer.flush()?;
    Ok(())
}

fn section_row(story: &Story, pair: &Pair, section: &Section) -> SectionRow {
    SectionRow {
        pair: pair.number,
        name: pair.name.clone().unwrap_or_default(),
        place: section.place,
        section: kind_name(section.line.kind),
        sock: match section.line.sock {
            Sock::First => 1,
            Sock::Second => 2,
        },
        yarn: section.line.yarn.symbol(),
        construction: construction_name(section.line.construction),
        stitches: section.line.stitches,
        used_mg: section.used.value.0,
        u_mg: section.used.u,
        at_s: section.at.map(|at| at.0),
        utc_s: section.at.and_then(|at| story.unix(at)),
        amended: section.amended,
        late: section.late,
        doubtful: section.doubtful,
    }
}

fn visit_row(story: &Story, visit: &Visit) -> VisitRow {
    VisitRow {
        at_s: visit.at.0,
        utc_s: story.unix(visit.at),
        gross_mg: visit.gross.value.0,
        u_mg: visit.gross.u,
        bowl: visit.bowl,
    }
}

/// A part of a sock, in small letters.
#[must_use]
pub(super) const fn kind_name(kind: SectionKind) -> &'static str {
    match kind {
        SectionKind::Cuff => "cuff",
        SectionKind::Leg => "leg",
        SectionKind::Heel => "heel",
        SectionKind::Gusset => "gusset",
        SectionKind::Foot => "foot",
        SectionKind::Toe => "toe",
    }
}

/// How a section is worked, in small letters.
#[must_use]
pub(super) const fn construction_name(construction: Construction) -> &'static str {
    match construction {
        Construction::Plain => "plain",
        Construction::Ribbed(Ribbing::OneByOne) => "rib 1x1",
        Construction::Ribbed(Ribbing::TwoByTwo) => "rib 2x2",
        Construction::Ribbed(Ribbing::Twisted) => "rib twisted",
        Construction::Heel(HeelConstruction::FlapAndGusset) => "heel flap and gusset",
        Construction::Heel(HeelConstruction::ShortRow) => "heel short row",
        Construction::Heel(HeelConstruction::Afterthought) => "heel afterthought",
        Construction::Toe(ToeConstruction::Wedge) => "toe wedge",
        Construction::Toe(ToeConstruction::Rounded) => "toe rounded",
        Construction::Toe(ToeConstruction::Asymmetric) => "toe asymmetric",
    }
}
