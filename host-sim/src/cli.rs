//! The command line.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{CommandFactory, Parser, Subcommand};

use crate::computer::plan::{self, PlanArgs};
use crate::computer::{ClockArgs, NameArgs, PullArgs, PushArgs, ReportArgs, ServeArgs, TableArgs};
use crate::desk;
use crate::failure::Failure;
use crate::lab::budget::BudgetArgs;
use crate::lab::calibrations::{self, CalibrationsArgs};
use crate::lab::knitters::{self, KnittersArgs};
use crate::lab::measure::command::{self, MeasureArgs};
use crate::lab::pages;
use crate::lab::season::{self, SeasonArgs};
use crate::lab::traces::{self, TracesArgs};
use crate::lab::training::{self, TrainArgs};
use crate::play::Play;
use crate::replay::Replay;

/// A standalone yarn scale on the desk: the device's own program in a terminal.
#[derive(Debug, Parser)]
#[command(name = "yarn-scale", version)]
struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

/// Without a command: the desk, an interactive simulator.
#[derive(Debug, Subcommand)]
enum Command {
    Budget(BudgetArgs),
    Calibrations(CalibrationsArgs),
    Clock(ClockArgs),
    Knitters(KnittersArgs),
    Measure(MeasureArgs),
    Name(NameArgs),
    Plan(PlanArgs),
    Play(Play),
    Pull(PullArgs),
    Push(PushArgs),
    Replay(Replay),
    Report(ReportArgs),
    /// Writes a picture of every page and every case of it, in each language, and sheets of them all.
    Pages {
        /// The folder to write into; it is made if it is not there.
        folder: PathBuf,
    },
    Season(SeasonArgs),
    Serve(ServeArgs),
    Table(TableArgs),
    Traces(TracesArgs),
    Train(TrainArgs),
}

/// The names of all commands.
#[must_use]
pub fn commands() -> Vec<String> {
    let command = Arguments::command();
    command
        .get_subcommands()
        .map(|command| command.get_name().to_owned())
        .collect()
}

/// Runs the command line of this process.
#[must_use]
pub fn run() -> ExitCode {
    match dispatch(Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(),
    }
}

fn dispatch(arguments: Arguments) -> Result<(), Failure> {
    match arguments.command {
        None => desk::run(),
        Some(Command::Budget(args)) => args.run(),
        Some(Command::Calibrations(args)) => calibrations::run(&args),
        Some(Command::Clock(args)) => args.run(),
        Some(Command::Name(args)) => args.run(),
        Some(Command::Pull(args)) => args.run(),
        Some(Command::Push(args)) => args.run(),
        Some(Command::Report(args)) => args.run(),
        Some(Command::Serve(args)) => args.run(),
        Some(Command::Table(args)) => args.run(std::io::stdout().lock()),
        Some(Command::Knitters(args)) => knitters::run(&args),
        Some(Command::Measure(args)) => command::run(&args),
        Some(Command::Plan(args)) => plan::run(&args),
        Some(Command::Play(play)) => play.run(std::io::stdout().lock()),
        Some(Command::Replay(replay)) => replay.run(std::io::stdout().lock()),
        Some(Command::Pages { folder }) => {
            let written = pages::write(&folder)?;
            println!("{written} pictures and 2 sheets in {}", folder.display());
            Ok(())
        }
        Some(Command::Season(args)) => season::run(&args),
        Some(Command::Traces(args)) => traces::run(&args),
        Some(Command::Train(args)) => training::run(&args),
    }
}
