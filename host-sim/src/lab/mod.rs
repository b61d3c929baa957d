//! The contributors' bench: how good the estimator and the answers are, what the judge of steadiness learns from, recordings with
//! their truth, and a picture of every page.

pub mod budget;
pub mod calibrations;
pub mod knitters;
pub mod measure;
pub mod pages;
pub mod season;
pub mod slips;
pub mod traces;
pub mod training;

use std::io::Write;

use clap::{Parser, Subcommand};

use crate::cli::Program;
use crate::failure::Failure;
use budget::BudgetArgs;
use calibrations::CalibrationsArgs;
use knitters::KnittersArgs;
use measure::command::MeasureArgs;
use pages::PagesArgs;
use season::SeasonArgs;
use slips::SlipsArgs;
use traces::TracesArgs;
use training::TrainArgs;

/// Measures, trains and draws what the yarn scale is made of, in the simulated world.
#[derive(Debug, Parser)]
#[command(name = "yarn-scale-lab", version, arg_required_else_help = true)]
pub struct Lab {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Budget(BudgetArgs),
    Calibrations(CalibrationsArgs),
    Knitters(KnittersArgs),
    Measure(MeasureArgs),
    Pages(PagesArgs),
    Season(SeasonArgs),
    Slips(SlipsArgs),
    Traces(TracesArgs),
    Train(TrainArgs),
}

impl Program for Lab {
    const GROUPS: &[(&str, &[&str])] = &[
        (
            "How good the weighing is",
            &["measure", "budget", "calibrations", "traces"],
        ),
        ("How good the answers are", &["knitters", "season", "slips"]),
        ("What core holds", &["train", "pages"]),
    ];

    fn run(self, out: &mut dyn Write) -> Result<(), Failure> {
        match self.command {
            Command::Budget(args) => args.run(out),
            Command::Calibrations(args) => args.run(out),
            Command::Knitters(args) => args.run(out),
            Command::Measure(args) => args.run(out),
            Command::Pages(args) => args.run(out),
            Command::Season(args) => args.run(out),
            Command::Slips(args) => args.run(out),
            Command::Traces(args) => args.run(out),
            Command::Train(args) => args.run(out),
        }
    }
}
