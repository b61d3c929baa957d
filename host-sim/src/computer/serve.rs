//! `serve`: the simulated scale on a pseudo-terminal, so that every command can be tried without a device.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use clap::Args;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Journal, Replayed};

use super::script::Script;
use crate::device::flash::SimFlash;
use crate::device::simulator::{JOURNAL_BYTES, Simulator};
use crate::failure::{BadInput, Failure};
use crate::world::{Room, Unit, World};

/// Runs the simulated scale on a pseudo-terminal and prints its name, for `--device`.
///
/// Ends with Ctrl-C, or after `--seconds`.
#[derive(Debug, Args)]
pub struct ServeArgs {
    /// The file that holds the journal's flash; it is made if it is not there. Without it, the journal is forgotten at the end.
    #[arg(long, value_name = "FILE")]
    flash: Option<PathBuf>,
    /// Ends by itself after this time.
    #[arg(long)]
    seconds: Option<u64>,
    /// What hands do meanwhile: CSV with header `t_ms,event`; events are `put GRAMS`, `take`, `zero`, `mark`, `next`, `hold KEY`. Each
    /// weight that the scale has noted is printed as `noted` and how many the running pair has.
    #[arg(long, value_name = "FILE")]
    presses: Option<PathBuf>,
    /// Time passes as fast as it can.
    #[arg(long)]
    fast: bool,
}

impl ServeArgs {
    /// Does it.
    ///
    /// # Errors
    /// One clear line.
    pub fn run(&self, mut out: impl Write) -> Result<(), Failure> {
        let flash = match &self.flash {
            Some(path) => image(path)?,
            None => SimFlash::blank(JOURNAL_BYTES),
        };
        let world = World::new(Unit::typical(1), SampleRate::Ten, Room::constant());
        let mut simulator = Simulator::with_flash(world, flash);
        simulator.switch_on();
        let mut script = match &self.presses {
            Some(file) => Script::read(file)?,
            None => Script::default(),
        };
        let end = self
            .seconds
            .and_then(|seconds| Instant::now().checked_add(Duration::from_secs(seconds)));
        let (mut line, name) = open_line()?;
        writeln!(out, "{name}")?;
        out.flush()?;
        let mut noted = steps(&simulator);
        let go_on = |simulator: &mut Simulator| {
            script.act(simulator);
            let now = steps(simulator);
            if self.presses.is_some() && now != noted {
                noted = now;
                writeln!(out, "noted {now}")?;
                out.flush()?;
            }
            if !self.fast {
                std::thread::sleep(TURN);
            }
            Ok(end.is_none_or(|end| Instant::now() < end))
        };
        serve_on(&mut simulator, &mut line, go_on)
    }
}

/// The flash in a file: a blank one, or one that holds a journal. Anything else of the same size is left as it is.
fn image(path: &Path) -> Result<SimFlash, BadInput> {
    let flash = SimFlash::on_file(path, JOURNAL_BYTES)?;
    let mut found = 0;
    let opened = Journal::open(&mut flash.copy(), |replayed| {
        found += u32::from(matches!(replayed, Replayed::Entry(_)));
    });
    let is_blank = flash.content().iter().all(|&byte| byte == 0xFF);
    if opened.is_ok() && (found > 0 || is_blank) {
        Ok(flash)
    } else {
        Err(BadInput::of_file(
            path,
            "holds no journal of a yarn scale, and is left as it is",
        ))
    }
}

/// Weights of the running pair that the scale has noted.
fn steps(simulator: &Simulator) -> usize {
    simulator.app().map_or(0, |app| app.book().ledger().steps().len())
}

/// Runs a simulated scale on a pseudo-terminal, whose name it tells, for as long as it may go on; whenever the line is quiet that is asked,
/// and 5 ms pass for the scale, however long the answer takes.
///
/// # Errors
/// If no pseudo-terminal can be opened, or it fails.
pub fn serve(
    simulator: &mut Simulator,
    named: impl FnOnce(&str) -> std::io::Result<()>,
    mut go_on: impl FnMut(&mut Simulator) -> bool,
) -> Result<(), Failure> {
    let (mut line, name) = open_line()?;
    named(&name)?;
    serve_on(simulator, &mut line, |simulator| Ok(go_on(simulator)))
}

/// The same on a line that is open; `go_on` is asked whenever the line is quiet.
fn serve_on(
    simulator: &mut Simulator,
    line: &mut (impl Read + Write),
    mut go_on: impl FnMut(&mut Simulator) -> std::io::Result<bool>,
) -> Result<(), Failure> {
    loop {
        let mut bytes = [0; 1_024];
        // A closed other end is no failure: the next one may come.
        let count = line.read(&mut bytes).unwrap_or(0);
        simulator.board.link.to_device.extend_from_slice(&bytes[..count]);
        simulator.pass(TURN.as_secs_f64(), |_| {});
        let answer = std::mem::take(&mut simulator.board.link.to_computer);
        line.write_all(&answer).or_else(|error| match error.kind() {
            std::io::ErrorKind::WouldBlock => Ok(()),
            _ => Err(error),
        })?;
        if count == 0 && !go_on(simulator)? {
            return Ok(());
        }
    }
}

/// Simulated time between two looks at the line.
const TURN: Duration = Duration::from_millis(5);

/// A pseudo-terminal: our end, which never waits, and the name of the other.
///
/// # Errors
/// If this system has none, or opens none.
#[cfg(unix)]
pub fn open_line() -> Result<(std::fs::File, String), Failure> {
    use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
    use rustix::termios::{OptionalActions, tcgetattr, tcsetattr};
    let failed = |error: rustix::io::Errno| Failure::Here(format!("cannot open a pseudo-terminal: {error}"));
    let ours = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).map_err(failed)?;
    grantpt(&ours).and_then(|()| unlockpt(&ours)).map_err(failed)?;
    // Bytes as they are: no echo, no line editing.
    let mut attributes = tcgetattr(&ours).map_err(failed)?;
    attributes.make_raw();
    tcsetattr(&ours, OptionalActions::Now, &attributes).map_err(failed)?;
    rustix::io::ioctl_fionbio(&ours, true).map_err(failed)?;
    let name = ptsname(&ours, Vec::new()).map_err(failed)?;
    Ok((std::fs::File::from(ours), name.to_string_lossy().into_owned()))
}

/// A pseudo-terminal, which this system does not have.
///
/// # Errors
/// Always.
#[cfg(not(unix))]
pub fn open_line() -> Result<(std::fs::File, String), Failure> {
    Err(Failure::Here("this system has no pseudo-terminals".into()))
}
