//! What both programs' command lines share: parsing, help by groups, output, and the one line that says why a command ended early.

use std::io::{self, BufWriter, Write};
use std::process::ExitCode;

use clap::{Command, Parser};

use crate::failure::Failure;

/// A program with commands.
pub trait Program: Parser {
    /// What its commands are for, and their names.
    const GROUPS: &[(&str, &[&str])];

    /// Does what its arguments say.
    ///
    /// # Errors
    /// Why it ends early.
    fn run(self, out: &mut dyn Write) -> Result<(), Failure>;
}

/// Runs the command line of this process.
#[must_use]
pub fn run<P: Program>() -> ExitCode {
    let name = command::<P>().get_name().to_owned();
    let program = match command::<P>()
        .try_get_matches()
        .and_then(|mut found| P::from_arg_matches_mut(&mut found))
    {
        Ok(program) => program,
        Err(error) => error.exit(),
    };
    let mut out = BufWriter::new(io::stdout().lock());
    let done = program.run(&mut out);
    let written = out.flush().map_err(Failure::Output);
    // What is buffered has been tried once: dropping it would try again.
    let _ = out.into_parts();
    match done.and(written) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(&name),
    }
}

/// The names of all commands.
#[must_use]
pub fn commands<P: Program>() -> Vec<String> {
    let names = command::<P>();
    names
        .get_subcommands()
        .map(|command| command.get_name().to_owned())
        .collect()
}

/// The command line with its commands grouped in the help.
fn command<P: Program>() -> Command {
    let mut command = P::command().disable_help_subcommand(true);
    command.build();
    let about = |name: &str| {
        let found = command.find_subcommand(name).and_then(Command::get_about);
        found.map_or(String::new(), |about| about.to_string())
    };
    let mut groups = String::new();
    for (title, names) in P::GROUPS {
        groups += &format!("\n{title}:\n");
        for name in *names {
            groups += &format!("  {name:WIDTH$}  {}\n", about(name));
        }
    }
    P::command().disable_help_subcommand(true).help_template(format!(
        "{{about-with-newline}}\n{{usage-heading}} {{usage}}\n{groups}\nOptions:\n{{options}}\n\n\
         {{name}} COMMAND --help explains a command.\n"
    ))
}

/// Columns for the names of commands.
const WIDTH: usize = 12;
