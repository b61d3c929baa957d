//! Slips on the bench: how often the device notes something wrong in silence, how often it asks for nothing, and whether it offers what is
//! right; beside it an ideal observer of the same stories, and plain subtraction.

pub mod ideal;
mod press;
pub mod scale;
mod several;
pub mod slip;
pub mod story;
pub mod tally;

use std::io::Write;

use clap::Args;

use crate::failure::Failure;
use slip::Slip;
use story::{KNITTERS, Known};
use tally::{ODDS, Tally};

/// Knitters with slips: what the scale notes, asks and offers.
#[derive(Debug, Args)]
pub struct SlipsArgs {
    /// Stories of each slip.
    #[arg(long, default_value_t = 200, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    stories: u64,
    /// Seed; stories of seed 1 were looked at while the likelihoods were written.
    #[arg(long, default_value_t = 2)]
    seed: u64,
    /// Only the stories in which several pairs are open.
    #[arg(long)]
    several: bool,
}

impl SlipsArgs {
    /// Plays the stories and prints the tables.
    ///
    /// # Errors
    /// If nothing can be written.
    pub fn run(self, out: &mut dyn Write) -> Result<(), Failure> {
        let one_pair = [
            (Known::FirstSock, "sock 2, sock 1 is known"),
            (Known::Nothing, "sock 1, nothing is known"),
        ];
        for (known, title) in one_pair.into_iter().filter(|_| !self.several) {
            writeln!(out, "{title}: {} stories of each, seed {}", self.stories, self.seed)?;
            let thought_of = Self::table(&self, known, &Slip::THOUGHT_OF, out)?;
            writeln!(out, "  kept apart")?;
            Self::table(&self, known, &Slip::KEPT_APART, out)?;
            curve(&thought_of, out)?;
            writeln!(out)?;
        }
        let (stories, seed) = (self.stories, self.seed);
        writeln!(
            out,
            "sock 2, one to three other pairs are open: {stories} stories of each, seed {seed}"
        )?;
        let tallies = Self::table(&self, Known::SeveralPairs, &Slip::SEVERAL_PAIRS, out)?;
        writeln!(out, "  before the press the cake proposed")?;
        for tally in &tallies {
            let [own, other] = tally.proposed();
            let name = tally.slip.words();
            writeln!(
                out,
                "    {name:<26} {own:>5.1} % its own pair {other:>5.1} % another pair"
            )?;
        }
        Ok(())
    }

    fn table(&self, known: Known, slips: &[Slip], out: &mut dyn Write) -> Result<Vec<Tally>, Failure> {
        writeln!(
            out,
            "  {:<28} {:>7} {:>7} {:>7}   {:>6}   {:>6} {:>6}   {:>8}",
            "slip", "silent", "ideal", "minus", "harm", "2nd/3rd", "offered", "stories"
        )?;
        let mut tallies = Vec::new();
        for &slip in slips {
            let tally = Tally::of(known, slip, self.seed, self.stories);
            writeln!(out, "  {tally}")?;
            if slip == Slip::Right {
                for (knitter, (spread, _)) in KNITTERS.iter().enumerate() {
                    let (asked, ideal) = tally.asked_of(knitter);
                    let goal = ["goal 1", "goal 6", "loose"][knitter];
                    let name = format!("asked, socks differ by {:.0} %, {goal}", 100.0 * spread);
                    writeln!(out, "    {name:<38} {asked:>5.1} % {ideal:>5.1} % ideal")?;
                }
                write!(out, "    where the ideal observer asks, it suspects:")?;
                for (slip, share) in tally.suspects() {
                    write!(out, " {slip:?} {share:.0} %")?;
                }
                writeln!(out)?;
            }
            tallies.push(tally);
        }
        Ok(tallies)
    }
}

/// Both errors against the odds at which a section is noted without a word.
fn curve(tallies: &[Tally], out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(
        out,
        "  odds      right asked (ideal)   12 % asked (ideal)   wrong in silence by slip: device (ideal)"
    )?;
    for (place, odds) in ODDS.iter().enumerate() {
        let Some(right) = tallies.iter().find(|tally| tally.slip == Slip::Right) else {
            continue;
        };
        let [asked, ideal] = right.asked_at(place, None);
        let [loose, loose_ideal] = right.asked_at(place, Some(1));
        write!(
            out,
            "  {odds:>5.0}     {asked:>5.1} % ({ideal:>4.1} %)       {loose:>5.1} % ({loose_ideal:>4.1} %)    "
        )?;
        for tally in tallies.iter().filter(|tally| tally.slip != Slip::Right) {
            let [silent, ideal] = tally.silent_at(place);
            if silent.max(ideal) >= 0.05 {
                write!(out, " {:?} {silent:.1} ({ideal:.1})", tally.slip)?;
            }
        }
        writeln!(out)?;
    }
    Ok(())
}
