//! `yarn-scale-lab season`: what moisture does to a section weighed hours or days apart, through a simulated heating season, and
//! what each way of dealing with it gains.

mod ball;
mod room;
mod ways;

pub use ball::moist;
pub use room::{HOURS, humidity};
pub use ways::{APART, Errors, WAYS, Way, measure};

use std::io::Write;

use yarn_scale_core::sock::Fibre;

use crate::failure::Failure;

/// Simulates a heating season and compares ways to keep moisture out of a 4 g section.
#[derive(Clone, Debug, clap::Args)]
pub struct SeasonArgs {
    /// How many seasons are simulated.
    #[arg(long, default_value_t = 20, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub seasons: u32,
    /// Seed of weather and people.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Mass of the cake, grams.
    #[arg(long, default_value_t = 90, value_parser = clap::value_parser!(u16).range(10..=400))]
    pub cake: u16,
}

impl SeasonArgs {
    /// Prints the table.
    ///
    /// # Errors
    /// If the output cannot be written.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let errors = measure(self.seasons, self.seed, self.cake.into(), Fibre::WoolPolyamide);
        Ok(out.write_all(table(self, &errors).as_bytes())?)
    }
}

/// The table as text.
#[must_use]
pub fn table(args: &SeasonArgs, errors: &[[Errors; WAYS]]) -> String {
    let mut text = format!(
        "A 4 g section off a cake of {} g, 75 % wool and 25 % polyamide, weighed at its beginning and its end;\n\
         {} simulated heating seasons from seed {}, invented weather. Milligrams.\n\
         within: 95 % of the errors are smaller; stated: half-width of the 95 % range; holds: share of errors inside it\n",
        args.cake, args.seasons, args.seed
    );
    for (place, way) in Way::ALL.into_iter().enumerate() {
        text += &format!(
            "\n{}\n hours apart |  r.m.s. | within | stated | holds %\n",
            way.words()
        );
        for (hours, row) in APART.iter().zip(errors) {
            let errors = &row[place];
            text += &format!(
                " {hours:>11} | {:>7.0} | {:>6.0} | {:>6.0} | {:>7.1}\n",
                errors.root_mean_square(),
                errors.within_95(),
                errors.stated_95(),
                errors.coverage()
            );
        }
    }
    text
}
