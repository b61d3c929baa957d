//! A simulated scale on a pseudo-terminal of its own, and the commands run on it.
#![cfg(unix)]

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc;
use std::thread::{self, JoinHandle};
use std::time::Duration;

use clap::Parser;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::computer::{Backup, BackupArgs, ClockArgs, MakeRoomArgs, NameArgs, RecordArgs, RestoreArgs, serve};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::device::simulator::Simulator;
use yarn_scale_sim::failure::Failure;
use yarn_scale_sim::world::{Room, Unit, World};

/// The commands that talk to a scale.
#[derive(Debug, Parser)]
pub(crate) enum Command {
    Clock(ClockArgs),
    MakeRoom(MakeRoomArgs),
    Name(NameArgs),
    Record(RecordArgs),
    Backup(BackupArgs),
    Restore(RestoreArgs),
}

/// A simulated scale on a line of its own.
pub(crate) struct Plugged {
    pub(crate) port: String,
    unplugged: Arc<AtomicBool>,
    runs: Option<JoinHandle<Vec<u8>>>,
}

impl Plugged {
    pub(crate) fn with(flash: SimFlash) -> Self {
        Self::after(flash, |_| {})
    }

    /// A scale to which something has happened before it is plugged in.
    pub(crate) fn after(flash: SimFlash, happens: fn(&mut Simulator)) -> Self {
        let unplugged = Arc::new(AtomicBool::new(false));
        let end = Arc::clone(&unplugged);
        let (tell, name) = mpsc::channel();
        let runs = thread::spawn(move || {
            // A cell without any noise would count as stuck.
            let world = World::new(Unit::typical(3), SampleRate::Ten, Room::constant());
            let mut simulator = Simulator::with_flash(world, flash);
            simulator.switch_on();
            happens(&mut simulator);
            let named = |name: &str| tell.send(name.to_owned()).map_err(std::io::Error::other);
            let go_on = |_: &mut Simulator| {
                thread::sleep(Duration::from_millis(5));
                !end.load(Ordering::Relaxed)
            };
            serve(&mut simulator, named, go_on).expect("a pseudo-terminal");
            simulator.board.flash.content().to_vec()
        });
        Self {
            port: name.recv().expect("a name"),
            unplugged,
            runs: Some(runs),
        }
    }

    /// Runs a command on it.
    pub(crate) fn run(&self, words: &[&str]) -> Result<(), String> {
        run_on(&self.port, words)
    }

    pub(crate) fn back_up(&self, to: &Path) -> Backup {
        self.run(&["backup", text(to)]).expect("a backup");
        Backup::read(to).expect("a backup")
    }

    /// What its flash holds in the end.
    pub(crate) fn unplug(mut self) -> Vec<u8> {
        self.unplugged.store(true, Ordering::Relaxed);
        let runs = self.runs.take().expect("it runs until now");
        runs.join().expect("no panic")
    }
}

impl Drop for Plugged {
    fn drop(&mut self) {
        self.unplugged.store(true, Ordering::Relaxed);
    }
}

pub(crate) fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

/// Runs a command on the scale at this port.
pub(crate) fn run_on(port: &str, words: &[&str]) -> Result<(), String> {
    let words = [&["yarn-scale"], words, &["--device", port]].concat();
    let done = match Command::parse_from(words) {
        Command::Clock(args) => args.run(std::io::sink()),
        Command::MakeRoom(args) => args.run(std::io::sink()),
        Command::Name(args) => args.run(std::io::sink()),
        Command::Record(args) => args.run(std::io::sink()),
        Command::Backup(args) => args.run(std::io::sink()),
        Command::Restore(args) => args.run(std::io::sink()),
    };
    done.map_err(|failure| match failure {
        Failure::Here(reason) => reason,
        Failure::Input(bad) => bad.to_string(),
        other => format!("{other:?}"),
    })
}
