//! The product's commands: the simulated device, and the computer side of a real one.

use std::io::Write;

use clap::{Parser, Subcommand};

use crate::cli::Program;
use crate::computer::plan::PlanArgs;
use crate::computer::{
    BackupArgs, BenchArgs, CheckArgs, ClockArgs, MakeRoomArgs, NameArgs, RecordArgs, ReportArgs, RestoreArgs,
    ServeArgs, TableArgs,
};
use crate::desk::{self, DeskArgs};
use crate::failure::Failure;
use crate::play::Play;
use crate::replay::Replay;

/// A standalone yarn scale: its own program in the terminal, and what a computer adds to a scale.
#[derive(Debug, Parser)]
#[command(name = "yarn-scale", version)]
pub struct Product {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    Backup(BackupArgs),
    Bench(BenchArgs),
    Check(CheckArgs),
    Clock(ClockArgs),
    Desk(DeskArgs),
    MakeRoom(MakeRoomArgs),
    Name(NameArgs),
    Plan(PlanArgs),
    Play(Play),
    Record(RecordArgs),
    Replay(Replay),
    Report(ReportArgs),
    Restore(RestoreArgs),
    Serve(ServeArgs),
    Table(TableArgs),
}

impl Program for Product {
    const GROUPS: &[(&str, &[&str])] = &[
        ("The scale on this computer", &["desk", "serve", "play", "replay"]),
        ("What the scale has noted", &["table", "report", "plan"]),
        ("Safekeeping", &["backup", "restore", "check", "make-room"]),
        ("Names and the time", &["name", "clock"]),
        ("A newly built scale", &["bench", "record"]),
    ];

    fn run(self, out: &mut dyn Write) -> Result<(), Failure> {
        match self.command {
            None => desk::run(&DeskArgs::default()),
            Some(Command::Desk(args)) => desk::run(&args),
            Some(Command::Backup(args)) => args.run(out),
            Some(Command::Bench(args)) => args.run(std::io::stdin().lock(), out),
            Some(Command::Check(args)) => args.run(out),
            Some(Command::Clock(args)) => args.run(out),
            Some(Command::MakeRoom(args)) => args.run(out),
            Some(Command::Name(args)) => args.run(out),
            Some(Command::Plan(args)) => args.run(out),
            Some(Command::Play(args)) => args.run(out),
            Some(Command::Record(args)) => args.run(out),
            Some(Command::Replay(args)) => args.run(out),
            Some(Command::Report(args)) => args.run(out),
            Some(Command::Restore(args)) => args.run(out),
            Some(Command::Serve(args)) => args.run(out),
            Some(Command::Table(args)) => args.run(out),
        }
    }
}
