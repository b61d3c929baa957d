//! `yarn-scale plan`: which leftovers for which sections, by numbers on the command line or a scale's records.

use std::io::Write;

use serde_json::{Value, json};
use yarn_scale_core::forecast::Rule;
use yarn_scale_core::sock::Decitex;
use yarn_scale_core::units::Milligrams;

use super::journal;
use super::problem::{Leftover, MOST_LEFTOVERS, MOST_SECTIONS, Numbers, Sections};
use super::solve::{Assignment, solve};
use crate::computer::{Damage, SourceArgs};
use crate::failure::Failure;

/// Finds which leftover is enough for which sections: uses up as much as possible, runs short nowhere, keeps a reserve.
#[derive(Clone, Debug, clap::Args)]
pub struct PlanArgs {
    /// A leftover and its grams, such as `green=12.4`. Once for each.
    #[arg(long = "leftover", value_name = "NAME=GRAMS", required = true, value_parser = leftover)]
    pub leftovers: Vec<Leftover>,
    /// A section and the grams it takes, such as `toes=4.8`; with standard deviation and number of earlier pairs, `toes=4.8:0.3:5`.
    /// Without those, a reserve of 25 % is kept. Grams are for all socks that the name covers. A name alone is looked up in your
    /// scale's earlier pairs (see `--file`, `--device`): `cuffs`, `heels`, `toes`, or `cuff`, `heel`, `toe` for one sock. Without any, all that
    /// the pairs on your needles still need of them is planned.
    #[arg(long = "section", value_name = "NAME[=GRAMS[:SPREAD:PAIRS]]", value_parser = section)]
    pub sections: Vec<Section>,
    /// Only what this pair on the needles still needs. Once for each.
    #[arg(long = "pair", value_name = "NUMBER", conflicts_with = "sections")]
    pub pairs: Vec<u16>,
    /// Where the records are that names alone are looked up in.
    #[command(flatten)]
    pub source: SourceArgs,
    /// How sure "enough" has to be, percent.
    #[arg(long, default_value_t = 95, value_parser = clap::value_parser!(u8).range(50..=99))]
    pub confidence: u8,
    /// A leftover counts as used up if at most this much is left, in grams.
    #[arg(long, value_name = "GRAMS", default_value = "1", value_parser = grams)]
    pub scrap: Milligrams,
    /// Ends of 15 cm to weave in per section; the 25 % reserve already covers them.
    #[arg(long, default_value_t = 4)]
    pub ends: u8,
    /// Metres per 100 g of the leftovers, to know what the ends weigh.
    #[arg(long, default_value_t = 420, value_parser = clap::value_parser!(u16).range(20..=2000))]
    pub metres: u16,
    /// Prints JSON.
    #[arg(long)]
    pub json: bool,
}

/// A section on the command line.
#[derive(Clone, Debug, PartialEq)]
pub enum Section {
    /// By its numbers.
    Numbers(Numbers),
    /// By its name in the records.
    Name(String),
}

impl Section {
    /// Its name, if that is all that is said of it.
    fn alone(&self) -> Option<String> {
        match self {
            Self::Name(name) => Some(name.clone()),
            Self::Numbers(_) => None,
        }
    }
}

impl PlanArgs {
    /// Solves and prints.
    ///
    /// # Errors
    /// What [`text`] gives, or if the output cannot be written.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let (text, damage) = answer(self)?;
        out.write_all(text.as_bytes())?;
        damage.told()
    }
}

/// Solves; gives what is printed.
///
/// # Errors
/// If there are too many leftovers or sections, the journal cannot be used, or a section is named that is not known.
pub fn text(args: &PlanArgs) -> Result<String, Failure> {
    Ok(answer(args)?.0)
}

/// What is printed, and what the journal lacks that it rests on.
fn answer(args: &PlanArgs) -> Result<(String, Damage), Failure> {
    let mut damage = Damage::default();
    if args.leftovers.len() > MOST_LEFTOVERS {
        return Err(Failure::Here(format!(
            "at most {MOST_LEFTOVERS} leftovers can be planned at once"
        )));
    }
    let rule = Rule {
        confidence: f32::from(args.confidence) / 100.0,
        ..Rule::default()
    };
    let names: Vec<String> = args.sections.iter().filter_map(Section::alone).collect();
    let (sections, records) = match names.len() {
        0 if args.sections.is_empty() => {
            let backup = args.source.backup()?;
            damage = Damage::of(&backup);
            journal::of_open_pairs(&args.pairs, &backup.book(), rule)?
        }
        0 => {
            let numbers = numbers(&args.sections);
            (
                by_numbers(args, &numbers, rule)?,
                numbers.iter().map(as_given).collect(),
            )
        }
        all if all == args.sections.len() => {
            let backup = args.source.backup()?;
            damage = Damage::of(&backup);
            let records = journal::records(&names, &backup.book(), rule)?;
            (journal::sections(&names, &backup.book(), rule)?, records)
        }
        _ => {
            let mixed = "give grams for every section or for none; without grams your earlier pairs are used";
            return Err(Failure::Here(mixed.to_owned()));
        }
    };
    let best = solve(&args.leftovers, &sections, args.scrap);
    let text = if args.json {
        let mut plan = as_json(&args.leftovers, &sections, &best);
        plan["records"] = json!(records);
        format!("{plan:#}\n")
    } else {
        records
            .iter()
            .fold(table(&args.leftovers, &sections, &best), |text, line| {
                text + line + "\n"
            })
    };
    Ok((text, damage))
}

fn numbers(sections: &[Section]) -> Vec<Numbers> {
    let numbers = sections.iter().filter_map(|section| match section {
        Section::Numbers(numbers) => Some(numbers.clone()),
        Section::Name(_) => None,
    });
    numbers.collect()
}

/// On what a section by numbers stands.
fn as_given(numbers: &Numbers) -> String {
    let reserve = numbers.spread.map_or_else(
        || "no records: a reserve of 25 %".to_owned(),
        |(_, pairs)| format!("with the spread of {pairs} earlier pairs"),
    );
    format!("{}: as given, {reserve}", numbers.name)
}

fn by_numbers(args: &PlanArgs, numbers: &[Numbers], rule: Rule) -> Result<Sections, Failure> {
    let yarn = Decitex::from_metres_per_100_g(args.metres);
    Sections::from_numbers(numbers, rule, args.ends, yarn)
        .map_err(|_| Failure::Here(format!("at most {MOST_SECTIONS} sections can be planned at once")))
}

/// The plan as a text table.
#[must_use]
pub fn table(leftovers: &[Leftover], sections: &Sections, best: &Assignment) -> String {
    let wide = leftovers
        .iter()
        .map(|leftover| leftover.name.chars().count())
        .max()
        .unwrap_or(0)
        .max(8);
    let mut text = format!("{:wide$}     has   takes   needs    left  for\n", "leftover");
    for (leftover, &set) in leftovers.iter().zip(&best.sets) {
        let takes = sections.expected(set);
        let named = if set == 0 {
            "nothing yet".to_owned()
        } else {
            sections.names(set).join(", ")
        };
        text += &format!(
            "{:wide$} {:>7} {:>7} {:>7} {:>7}  {named}\n",
            leftover.name,
            in_grams(leftover.mass),
            in_grams(takes),
            in_grams(sections.need(set)),
            in_grams(leftover.mass - takes),
        );
    }
    let rest = sections.all() & !best.sets.iter().fold(0, |all, set| all | set);
    if rest != 0 {
        text += &format!(
            "from other yarn: {}, {} g\n",
            sections.names(rest).join(", "),
            in_grams(sections.expected(rest))
        );
    }
    text + &format!(
        "{} g of leftovers will be used; {} of {} will be used up. Estimates: keep the reserve.\n",
        in_grams(Milligrams(best.worth.knitted)),
        best.worth.used_up,
        leftovers.len()
    )
}

/// The plan for machines.
#[must_use]
pub fn as_json(leftovers: &[Leftover], sections: &Sections, best: &Assignment) -> Value {
    let rest = sections.all() & !best.sets.iter().fold(0, |all, set| all | set);
    let each = leftovers.iter().zip(&best.sets).map(|(leftover, &set)| {
        json!({
            "leftover": leftover.name,
            "holds_mg": leftover.mass.0,
            "sections": sections.names(set),
            "takes_mg": sections.expected(set).0,
            "need_mg": sections.need(set).0,
            "stays_mg": (leftover.mass - sections.expected(set)).0,
        })
    });
    json!({
        "plan": each.collect::<Vec<_>>(),
        "other_yarn": {"sections": sections.names(rest), "takes_mg": sections.expected(rest).0},
        "knitted_up_mg": best.worth.knitted,
        "used_up": best.worth.used_up,
    })
}

/// Reads a leftover, `NAME=GRAMS`.
///
/// # Errors
/// What is wrong with it, in one line.
pub fn leftover(text: &str) -> Result<Leftover, String> {
    let (name, mass) = text.split_once('=').ok_or("write NAME=GRAMS")?;
    Ok(Leftover {
        name: name.to_owned(),
        mass: grams(mass)?,
    })
}

/// Reads a section, `NAME=GRAMS`, `NAME=GRAMS:SPREAD:PAIRS` or the name alone.
///
/// # Errors
/// What is wrong with it, in one line.
pub fn section(text: &str) -> Result<Section, String> {
    let Some((name, numbers)) = text.split_once('=') else {
        return Ok(Section::Name(text.to_owned()));
    };
    let parts: Vec<&str> = numbers.split(':').collect();
    let (takes, spread) = match parts[..] {
        [takes] => (takes, None),
        [takes, spread, pairs] => {
            let pairs = pairs.parse().map_err(|_| format!("{pairs} is not a number of pairs"))?;
            if pairs < 2 {
                return Err("a spread needs two earlier pairs at least".to_owned());
            }
            (takes, Some((f64::from(grams(spread)?.0), pairs)))
        }
        _ => return Err("write NAME=GRAMS or NAME=GRAMS:SPREAD:PAIRS".to_owned()),
    };
    Ok(Section::Numbers(Numbers {
        name: name.to_owned(),
        takes: f64::from(grams(takes)?.0),
        spread,
    }))
}

fn grams(text: &str) -> Result<Milligrams, String> {
    let grams: f64 = text.parse().map_err(|_| no_grams(text))?;
    if !(0.0..=2_000.0).contains(&grams) {
        return Err(format!("{text} g: give 0 to 2000 g"));
    }
    Ok(Milligrams((grams * 1_000.0).round() as i32))
}

/// Why this is not a number of grams, and what it could be.
fn no_grams(text: &str) -> String {
    let with_point = text.replacen(',', ".", 1);
    if with_point != text && with_point.parse::<f64>().is_ok() {
        format!("{text}: write the decimal point as a point, {with_point}")
    } else {
        format!("{text} is not a number of grams")
    }
}

fn in_grams(mass: Milligrams) -> String {
    format!("{:.1}", f64::from(mass.0) / 1_000.0)
}
