//! The desk: the device in a terminal, to be tried with all that can happen to it.

pub mod draw;
pub mod state;

use std::io::{self, IsTerminal};
use std::time::{Duration, Instant};

use clap::Args;
use ratatui::DefaultTerminal;
use ratatui::crossterm::event::{self, Event, KeyEventKind};

use crate::failure::Failure;
use state::{Desk, Next};

/// The scale in the terminal, to be tried by hand; also without any command.
#[derive(Args, Clone, Copy, Debug, Default)]
pub struct DeskArgs {
    /// Begins with a scale that was just built: not calibrated, nothing noted.
    #[arg(long)]
    as_built: bool,
    /// Begins with the invented pair finished, to be checked, washed and dried.
    #[arg(long, conflicts_with = "as_built")]
    finished: bool,
}

/// Runs the desk until it is left. The terminal is as it was afterwards, also after a panic.
///
/// # Errors
/// [`Failure::Here`] if there is no terminal, [`Failure::Output`] if it cannot be drawn on.
pub fn run(args: &DeskArgs) -> Result<(), Failure> {
    if !io::stdin().is_terminal() || !io::stdout().is_terminal() {
        return Err(Failure::Here(
            "the desk needs a terminal; without one, try `yarn-scale play FILE` or `yarn-scale --help`".to_owned(),
        ));
    }
    let desk = if args.as_built {
        Desk::as_built()
    } else if args.finished {
        Desk::finished()
    } else {
        Desk::half_way()
    }?;
    let mut terminal = ratatui::try_init()?;
    let left = stay(desk, &mut terminal);
    ratatui::try_restore()?;
    Ok(left?)
}

fn stay(mut desk: Desk, terminal: &mut DefaultTerminal) -> io::Result<()> {
    let mut before = Instant::now();
    loop {
        terminal.draw(|frame| draw::draw(&desk, frame))?;
        while event::poll(FRAME_TIME.saturating_sub(before.elapsed()))? {
            // Resizing needs no more than drawing again.
            if let Event::Key(key) = event::read()?
                && key.kind != KeyEventKind::Release
                && desk.key(key) == Next::Leave
            {
                return Ok(());
            }
        }
        // A terminal that was stopped for an hour does not make up for it.
        let passed = before.elapsed().min(LONGEST_FRAME);
        before = Instant::now();
        desk.pass(passed.as_secs_f64());
    }
}

/// Between two pictures.
const FRAME_TIME: Duration = Duration::from_millis(50);
/// Most that one picture makes up for.
const LONGEST_FRAME: Duration = Duration::from_millis(500);
