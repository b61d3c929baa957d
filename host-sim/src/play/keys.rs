//! Fingers on the keys, and an eye on the display: what leads through lists and to numbers.

use yarn_scale_core::app::Key;
use yarn_scale_core::screen::View;
use yarn_scale_core::units::Duration;

use super::stage::{Stage, Unmet};
use super::witness::Witness;
use super::words;
use crate::device::simulator::Simulator;
use crate::play::scenario::KeyNames;

impl Stage {
    pub(super) fn keys(&mut self, keys: &KeyNames, how: fn(&mut Simulator, Key), witness: &mut Witness) {
        // She sees something first, and then presses.
        self.pass(REACTION_S, witness);
        for key in &keys.0 {
            how(&mut self.simulator, *key);
            self.until_free(witness);
        }
    }

    /// NEXT until it is highlighted, then MARK.
    pub(super) fn choose(&mut self, name: &str, witness: &mut Witness) -> Result<(), Unmet> {
        let grams: Option<f64> = name.strip_suffix(" g").and_then(|number| number.parse().ok());
        let highlighted = |view: &View| match grams {
            Some(grams) => words::highlighted_grams(view).is_some_and(|found| (found - grams).abs() < CHOSEN_WITHIN_G),
            None => words::highlighted(view).as_deref() == Some(name),
        };
        let rows = self.view().map_or(0, |view| words::choices(&view).len());
        for _ in 0..=rows {
            if self.view().as_ref().is_some_and(highlighted) {
                self.press(Key::Mark, witness);
                return Ok(());
            }
            self.press(Key::Next, witness);
        }
        let there = self.view().map(|view| words::choices(&view)).unwrap_or_default();
        Err(format!("cannot choose {name:?}, there is {}", there.join(", ")))
    }

    /// Presses step by step until the number stands there, then MARK; while it is far, the key is held.
    pub(super) fn set(&mut self, wanted: f64, witness: &mut Witness) -> Result<(), Unmet> {
        let (mut before, mut held) = (None, false);
        for _ in 0..MOST_PRESSES {
            let now = self.number_being_set().ok_or("nothing is being set")?;
            let away = wanted - now;
            if away.abs() < SAME_NUMBER {
                self.press(Key::Mark, witness);
                return Ok(());
            }
            let key = if away > 0.0 { Key::Next } else { Key::Zero };
            let step = before.map(|before: f64| (now - before).abs());
            if !held && step.is_some_and(|step| away.abs() > FAR * step) {
                self.hold_towards(wanted, key, witness);
                held = true;
            } else {
                self.press(key, witness);
            }
            before = Some(now);
        }
        Err(format!("cannot set {wanted}"))
    }

    /// Holds the key until one more step would lead past the number.
    fn hold_towards(&mut self, wanted: f64, key: Key, witness: &mut Witness) {
        let clock = self.simulator.board.clock();
        self.simulator.board.fingers.down_for(key, clock, LONGEST_HOLD);
        let mut step = 0.0_f64;
        while let Some(now) = self.number_being_set()
            && (wanted - now).abs() >= step
        {
            self.pass(GLANCE_S, witness);
            if let Some(then) = self.number_being_set() {
                step = step.max((then - now).abs());
            }
        }
        let clock = self.simulator.board.clock();
        self.simulator.board.fingers.let_go(clock);
        self.until_free(witness);
    }

    fn number_being_set(&self) -> Option<f64> {
        self.view().as_ref().and_then(words::number_being_set)
    }

    fn press(&mut self, key: Key, witness: &mut Witness) {
        self.simulator.press(key);
        self.until_free(witness);
    }

    /// Until the finger has left the key.
    fn until_free(&mut self, witness: &mut Witness) {
        let free = self.simulator.board.fingers.free_at();
        let left = free.since(self.simulator.board.clock());
        self.pass(f64::from(left.0) / 1_000.0, witness);
    }
}

/// How far a mass may be off that is to be chosen, g.
const CHOSEN_WITHIN_G: f64 = 0.6;
/// Numbers are set in steps of a tenth or more.
const SAME_NUMBER: f64 = 0.04;
/// Steps from which on a key is held.
const FAR: f64 = 12.0;
/// A finger's patience.
const MOST_PRESSES: usize = 300;
const LONGEST_HOLD: Duration = Duration::from_secs(60);
/// While a key is held the number is looked at this often, s.
const GLANCE_S: f64 = 0.05;

/// From what is seen until the finger is on the key, s (engineering assumption).
const REACTION_S: f64 = 0.7;
