//! The owner who does what the pages of the calibration say.

use yarn_scale_core::app::Key;

use super::trial::Mishap;
use crate::play::scenario::{Expect, Grams, KeyNames, Names, Seconds, Step, Touch};
use crate::play::stage::Stage;
use crate::play::witness::Witness;
use crate::play::words;

/// One who reads and does.
#[derive(Debug)]
pub(super) struct Owner {
    /// How things stand.
    pub(super) stage: Stage,
    /// What goes wrong with the next load, once.
    pub(super) mishap: Mishap,
    /// How often MARK was pressed for a level.
    pub(super) marks: usize,
    witness: Witness,
    on_pan: Vec<String>,
}

impl Owner {
    pub(super) fn new(stage: Stage) -> Self {
        Self {
            stage,
            mishap: Mishap::None,
            marks: 0,
            witness: Witness::default(),
            on_pan: Vec::new(),
        }
    }

    /// Plays a step; `None` if it does not go as it should.
    pub(super) fn does(&mut self, step: &Step) -> Option<()> {
        self.stage.play(step, &mut self.witness).ok()
    }

    /// Presses keys, one after the other.
    pub(super) fn presses(&mut self, keys: &[Key]) -> Option<()> {
        self.does(&Step::Press(KeyNames(keys.to_vec())))
    }

    /// Chooses in one list after the other.
    pub(super) fn chooses(&mut self, names: &[&str]) -> Option<()> {
        self.does(&Step::Choose(Names(
            names.iter().map(|&name| name.to_owned()).collect(),
        )))
    }

    /// Waits until the page says it, and that the pan is steady.
    pub(super) fn awaits(&mut self, says: Option<&str>) -> Option<()> {
        self.does(&Step::Expect(Box::new(Expect {
            says: says.map(str::to_owned),
            steady: Some(true),
            by: Some(Seconds(30.0)),
            ..Expect::default()
        })))
    }

    /// Does what the pages say with a `mass` and a `cup` until they leave the choice again.
    pub(super) fn follows(&mut self, mass: &str, cup: &str) -> Option<()> {
        for _ in 0..PATIENCE {
            match words::says(&self.stage.view()?)?.as_str() {
                "put-on-pan" | "mass-with-cup" => self.puts(mass)?,
                "cup-on-pan" => self.puts(cup)?,
                "empty-the-pan" => {
                    for thing in std::mem::take(&mut self.on_pan) {
                        self.does(&Step::Take(thing))?;
                    }
                    self.awaits(None)?;
                }
                "pressed" => {}
                "calibration" => return Some(()),
                _ => return None,
            }
            self.marks += 1;
            self.presses(&[Key::Mark])?;
        }
        None
    }

    fn puts(&mut self, thing: &str) -> Option<()> {
        self.does(&Step::Put(thing.to_owned()))?;
        self.on_pan.push(thing.to_owned());
        self.awaits(None)?;
        match std::mem::replace(&mut self.mishap, Mishap::None) {
            Mishap::Hand => {
                self.does(&Step::Hand(Grams(5.0)))?;
                self.does(&Step::Wait(Seconds(0.3)))
            }
            Mishap::Knock => self.does(&Step::Touch(Touch::Bump)),
            _ => Some(()),
        }
    }
}

/// Pages after which anybody gives up.
const PATIENCE: usize = 100;
