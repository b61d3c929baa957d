//! `yarn-scale-lab knitters`: does "enough" keep its promise? Many simulated knitters with their own spreads.

mod coverage;
mod hand;

pub use coverage::{Line, Method, PAIRS, Question, Tally, measure};
pub use hand::{CONTRAST, Deviations, Knitter, Pair, SIZE};

use std::io::Write;

use clap::ValueEnum;
use yarn_scale_core::forecast::Rule;

use crate::failure::Failure;

/// Counts how often "enough" is wrong, by number of past pairs, beside two rules of thumb.
#[derive(Clone, Debug, clap::Args)]
pub struct KnittersArgs {
    /// How many knitters are simulated.
    #[arg(long, default_value_t = 10_000, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub knitters: u32,
    /// Seed of the draw.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// How the knitters' deviations are distributed.
    #[arg(long, value_enum, default_value_t = Deviations::Normal)]
    pub deviations: Deviations,
    /// Confidence of "enough", percent.
    #[arg(long, default_value_t = 95, value_parser = clap::value_parser!(u8).range(50..=99))]
    pub confidence: u8,
}

impl KnittersArgs {
    /// Prints the table.
    ///
    /// # Errors
    /// If the output cannot be written.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let rule = Rule {
            confidence: f32::from(self.confidence) / 100.0,
            ..Rule::default()
        };
        let lines = measure(self.knitters, self.seed, self.deviations, rule);
        Ok(out.write_all(table(self, &lines).as_bytes())?)
    }
}

/// As it is written on the command line.
fn name(deviations: Deviations) -> String {
    let value = deviations.to_possible_value();
    value.map_or(String::new(), |value| value.get_name().to_owned())
}

/// The table as text.
#[must_use]
pub fn table(args: &KnittersArgs, lines: &[Line]) -> String {
    let mut text = format!(
        "{} knitters, seed {}, {} deviations; \"enough\" wrong in % of leftovers that just pass (promised {}),\n\
         and the mean reserve in % of what was knitted, ends not counted. Invented knitters: see the module's notes\n",
        args.knitters,
        args.seed,
        name(args.deviations),
        100 - args.confidence
    );
    for question in Question::ALL {
        text += &format!(
            "\n{}\n past pairs |  scale  reserve | quarter  reserve | mean x 2  reserve\n",
            question.words()
        );
        for line in lines.iter().filter(|line| line.question == question) {
            let [scale, quarter, mean] = line.tallies;
            text += &format!(
                " {:>10} | {:>6.1} {:>8.1} | {:>7.1} {:>8.1} | {:>8.1} {:>8.1}\n",
                line.pairs,
                scale.wrong_percent(),
                scale.reserve_percent(),
                quarter.wrong_percent(),
                quarter.reserve_percent(),
                mean.wrong_percent(),
                mean.reserve_percent()
            );
        }
    }
    text
}
