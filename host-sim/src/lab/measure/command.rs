//! `yarn-scale-lab measure`.

use std::io::Write;
use std::path::PathBuf;
use std::time::Instant;

use clap::Args;
use indicatif::{ProgressBar, ProgressStyle};
use serde_json::json;
use yarn_scale_core::converter::SampleRate;

use super::benchmark::{self, Extent};
use super::contender::Contender;
use super::honesty;
use super::plot;
use super::scenario;
use super::table;
use super::worlds;
use crate::failure::{BadInput, Failure};
use crate::files;
use crate::world::{Family, Unit};

/// Measures the estimator on simulated recordings beside simple ones and the physical bound.
#[derive(Args, Clone, Debug)]
pub struct MeasureArgs {
    /// Seed of all recordings.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Samples a second.
    #[arg(long, default_value = "10", value_parser = ["10", "80"])]
    rate: String,
    /// All there is: over 7,700 handlings and 10,000 sections; takes minutes.
    #[arg(long)]
    long: bool,
    /// Only the scale's own estimator.
    #[arg(long)]
    own: bool,
    /// How speed trades against false steady signs: the scale's own estimator at several odds, averages of several lengths; no sections.
    #[arg(long, conflicts_with = "own")]
    tradeoff: bool,
    /// In every world of the family, beside each world's own bound: the scale's own estimator only. Some worlds are kept out of all tuning.
    #[arg(long, conflicts_with_all = ["tradeoff", "plots"])]
    worlds: bool,
    /// Threads to use.
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=64))]
    threads: u8,
    /// Figures as JSON.
    #[arg(long)]
    json: bool,
    /// Also draw pictures (SVG) into this folder: a placement, latency, error, coverage.
    #[arg(long, value_name = "FOLDER")]
    plots: Option<PathBuf>,
}

impl MeasureArgs {
    /// Runs the command.
    ///
    /// # Errors
    /// [`Failure::Input`] if a picture cannot be written, [`Failure::Output`] if `out` does not take the figures.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let rate = if self.rate == "80" {
            SampleRate::Eighty
        } else {
            SampleRate::Ten
        };
        if self.worlds {
            return self.worlds(rate, out);
        }
        let mut extent = if self.long { LONG } else { QUICK };
        if self.tradeoff {
            // The odds of the steady sign move nothing in a section.
            extent.sections = 0;
        }
        if let Some(folder) = &self.plots {
            files::new_folder(folder)?;
        }
        let contenders = self.contenders();
        let style = ProgressStyle::with_template("{bar:40} {pos}/{len} recordings, {eta} to go")
            .unwrap_or_else(|_| ProgressStyle::default_bar());
        let progress = ProgressBar::new(0).with_style(style);
        let begun = Instant::now();
        let outcome = benchmark::run(
            Family::Raised,
            self.seed,
            rate,
            &contenders,
            extent,
            usize::from(self.threads),
            &progress,
        );
        progress.finish_and_clear();
        if let Some(folder) = &self.plots {
            let drawn = if self.tradeoff {
                plot::tradeoff(&outcome, folder)
            } else {
                plot::all(&outcome, &scenario::handlings(Unit::draw(self.seed), rate), folder)
            };
            drawn.map_err(|error| BadInput::of_file(folder, error))?;
        }
        if self.json {
            writeln!(
                out,
                "{}",
                json!({ "seed": self.seed, "samples_per_second": self.rate, "figures": table::json(&outcome) })
            )?;
        } else {
            writeln!(
                out,
                "seed {}, {} samples/s, {:.0} s",
                self.seed,
                self.rate,
                begun.elapsed().as_secs_f64()
            )?;
            write!(out, "{}", table::text(&outcome))?;
            let own = outcome
                .scores
                .iter()
                .find(|(contender, _)| *contender == Contender::Ours);
            if let Some((_, score)) = own.filter(|_| !self.tradeoff) {
                write!(out, "\n{}", honesty::text(score))?;
            }
        }
        Ok(())
    }

    fn worlds(&self, rate: SampleRate, mut out: impl Write) -> Result<(), Failure> {
        let extent = if self.long { LONG_WORLD } else { QUICK_WORLD };
        let mut outcomes = Vec::new();
        for family in Family::ALL {
            let contenders = [Contender::Ours];
            let threads = usize::from(self.threads);
            outcomes.push((
                family,
                benchmark::run(
                    family,
                    self.seed,
                    rate,
                    &contenders,
                    extent,
                    threads,
                    &ProgressBar::hidden(),
                ),
            ));
        }
        if self.json {
            let figures = worlds::json(&outcomes);
            writeln!(
                out,
                "{}",
                json!({ "seed": self.seed, "samples_per_second": self.rate, "worlds": figures })
            )?;
        } else {
            writeln!(out, "seed {}, {} samples/s", self.seed, self.rate)?;
            write!(out, "{}", worlds::text(&outcomes))?;
        }
        Ok(())
    }

    fn contenders(&self) -> Vec<Contender> {
        if self.own {
            return vec![Contender::Ours];
        }
        if !self.tradeoff {
            return Contender::ALL.to_vec();
        }
        let ours = ODDS.map(Contender::OursAt);
        let averages = LENGTHS.map(Contender::Average);
        [Contender::Ours].into_iter().chain(ours).chain(averages).collect()
    }
}

/// Odds of the trade-off, 64ths of a natural logarithm.
const ODDS: [i16; 9] = [0, 64, 112, 144, 176, 208, 240, 272, 320];
/// Lengths of the trade-off's averages.
const LENGTHS: [usize; 6] = [4, 6, 8, 11, 16, 22];
const QUICK: Extent = Extent {
    handlings: 340,
    others: 150,
    drains: 20,
    sections: 40,
};
const LONG: Extent = Extent {
    handlings: 670,
    others: 250,
    drains: 100,
    sections: 670,
};
/// For each world.
const QUICK_WORLD: Extent = Extent {
    handlings: 340,
    others: 20,
    drains: 4,
    sections: 100,
};
const LONG_WORLD: Extent = Extent {
    handlings: 340,
    others: 100,
    drains: 20,
    sections: 400,
};
