//! `yarn-scale play`: a scenario, headless.

pub mod expectation;
pub mod facts;
mod keys;
mod record;
mod report;
pub mod scenario;
pub mod stage;
pub mod witness;
pub mod words;

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use yarn_scale_core::ledger::Ledger;

use crate::failure::Failure;
use crate::files;
use crate::play::scenario::Script;
use report::Report;
use stage::{Stage, Unmet};
use witness::Witness;

/// Plays a scenario file without a terminal, prints the screens and the ledger, and checks what the file expects.
#[derive(Debug, Args)]
pub struct Play {
    /// The scenario: TOML, explained in tests/scenarios/README.md.
    pub file: PathBuf,
    /// Seed of everything random, instead of the file's.
    #[arg(long, value_name = "NUMBER")]
    pub seed: Option<u64>,
    /// Prints JSON, one object a line.
    #[arg(long)]
    pub json: bool,
    /// Draws every screen that is told of.
    #[arg(long)]
    pub draw: bool,
    /// Writes every different screen into this folder, new or empty, as PNG.
    #[arg(long, value_name = "FOLDER")]
    pub frames: Option<PathBuf>,
    /// Writes what went in and what came out into this folder, new or empty, for the bench around the firmware image.
    #[arg(long, value_name = "FOLDER")]
    pub record: Option<PathBuf>,
}

/// A scenario that was played.
#[derive(Debug)]
pub struct Played {
    /// How things stand at its end.
    pub stage: Stage,
    /// What was seen.
    pub witness: Witness,
    /// The ledger at the end, if the power was on.
    pub ledger: Option<Ledger>,
    /// The step that did not go as it should, from 0, and why; the number of steps if it was the end.
    pub unmet: Option<(usize, Unmet)>,
}

/// Plays a scenario to its end, or to the first step that does not go as it should.
pub fn play(script: &Script, seed: u64, mut witness: Witness, mut each: impl FnMut(usize, &Stage, &Witness)) -> Played {
    let mut stage = Stage::new(script, seed);
    for (place, step) in script.scenario.steps.iter().enumerate() {
        let met = stage.play(step.get_ref(), &mut witness);
        each(place, &stage, &witness);
        if let Err(unmet) = met {
            return close(stage, witness, Some((place, unmet)));
        }
    }
    let unmet = stage.end().err().map(|unmet| (script.scenario.steps.len(), unmet));
    close(stage, witness, unmet)
}

fn close(mut stage: Stage, mut witness: Witness, unmet: Option<(usize, Unmet)>) -> Played {
    let ledger = stage.simulator.app().map(|app| app.book().ledger().clone());
    stage.simulator.switch_off();
    witness.look(&mut stage.simulator);
    Played {
        stage,
        witness,
        ledger,
        unmet,
    }
}

impl Play {
    /// Plays the file.
    ///
    /// # Errors
    /// [`Failure::Input`] for a file that is no scenario, [`Failure::Unmet`] with its line for what was expected and was not
    /// so, [`Failure::Output`] if something cannot be written.
    pub fn run(&self, out: impl Write) -> Result<(), Failure> {
        let script = Script::read(&self.file)?;
        for folder in self.frames.iter().chain(&self.record) {
            files::new_folder(folder)?;
        }
        let seed = self.seed.unwrap_or(script.scenario.world.seed);
        let mut report = Report::new(out, self.json, self.draw);
        report.begin(&script, seed)?;
        let mut written = Ok(());
        let witness = if self.record.is_some() {
            Witness::recording()
        } else {
            Witness::default()
        };
        let played = play(&script, seed, witness, |place, stage, witness| {
            if written.is_ok() {
                written = report.step(&script, place, stage, witness);
            }
        });
        written?;
        report.end(&played)?;
        if let Some(folder) = &self.frames {
            record::write_frames(folder, &played.witness.frames)?;
        }
        if let (Some(folder), Some(recording)) = (&self.record, &played.witness.recording) {
            record::write(folder, recording)?;
        }
        match played.unmet {
            None => Ok(()),
            Some((place, unmet)) => Err(Failure::Unmet(script.complain(place, unmet).to_string())),
        }
    }
}
