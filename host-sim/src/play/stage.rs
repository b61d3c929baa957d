//! Plays the steps of a scenario: what happens to the world, and what the device makes of it.

use std::collections::BTreeMap;

use yarn_scale_core::app::App;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::{Entry, Sequence};
use yarn_scale_core::screen::{Body, View};

use super::expectation;
use super::witness::Witness;
use super::words;
use crate::device::flash::{SimFlash, Tear};
use crate::device::simulator::{JOURNAL_BYTES, Simulator};
use crate::play::scenario::{
    Expect, Knit, Plug, ScaleKind, Script, SectionName, Setting, Shake, Spoilt, Step, Switch, Touch,
};
use crate::world::things::Things;
use crate::world::{Body as Lump, DigitalFault, Disturbance, Gesture, Room, Stream, Unit, World};

/// A scenario under way.
#[derive(Debug)]
pub struct Stage {
    /// The device and the world around it.
    pub simulator: Simulator,
    /// What lies in the basket and on the pan.
    pub things: Things,
    /// What each section took, g: the truth.
    pub truth: BTreeMap<SectionName, f64>,
    random: Stream,
    /// Records up to this one have been asked for.
    asked_up_to: Sequence,
}

/// A step that did not go as it should, and why.
pub type Unmet = String;

impl Stage {
    /// Sets the stage: everything in the basket, power off.
    #[must_use]
    pub fn new(script: &Script, seed: u64) -> Self {
        let scenario = &script.scenario;
        let world = world(&scenario.world, seed);
        let mut things = Things::default();
        for (name, grams) in &scenario.yarns {
            things.add(name, Lump::wool(grams.0), true, world.now());
        }
        for (name, grams) in &scenario.objects {
            things.add(name, Lump::dry(grams.0), false, world.now());
        }
        let mut simulator = if scenario.world.calibrated {
            Simulator::new(world)
        } else {
            Simulator::with_flash(world, SimFlash::blank(JOURNAL_BYTES))
        };
        simulator.board.humidity_sensor = scenario.world.humidity_sensor;
        let before = simulator.journal();
        Self {
            simulator,
            things,
            truth: BTreeMap::new(),
            random: Stream::new(seed, 20),
            asked_up_to: before.last().map_or(Sequence(0), |entry| entry.sequence),
        }
    }

    /// Gives the scale another flash chip, with whatever it holds. None of that needs to be asked for.
    pub fn exchange_flash(&mut self, flash: SimFlash) {
        self.simulator.board.flash = flash;
        let last = self.simulator.journal().iter().map(|entry| entry.sequence).max();
        self.asked_up_to = last.unwrap_or_default();
    }

    /// The same scenario at the same moment, to go another way from here.
    #[must_use]
    pub fn copy(&self) -> Self {
        Self {
            simulator: self.simulator.copy(),
            things: self.things.clone(),
            truth: self.truth.clone(),
            random: self.random.clone(),
            asked_up_to: self.asked_up_to,
        }
    }

    /// Plays one step.
    ///
    /// # Errors
    /// Why it did not go as it should.
    pub fn play(&mut self, step: &Step, witness: &mut Witness) -> Result<(), Unmet> {
        match step {
            Step::Choose(names) => return names.0.iter().try_for_each(|name| self.choose(name, witness)),
            Step::CutInWrite(after) => {
                let tear = Tear::Subset(self.random.index(1 << 16) as u64);
                self.simulator.board.flash.cut_after(*after, tear);
            }
            Step::Disturb(shake) => self.shake(*shake),
            Step::Expect(expect) => return self.expect(expect, witness),
            Step::Hand(grams) if grams.0 > 0.0 => self.simulator.board.world_mut().hand_on(grams.0),
            Step::Hand(_) => self.simulator.board.world_mut().hand_off(),
            Step::Hold(keys) => self.keys(keys, Simulator::hold, witness),
            Step::Knit(knit) => return self.knit(knit, witness),
            Step::Note(_) => {}
            Step::Power(Switch::On) => self.switch_on(witness),
            Step::Power(Switch::Off) => {
                self.simulator.switch_off();
                witness.look(&mut self.simulator);
            }
            Step::Press(keys) => self.keys(keys, Simulator::press, witness),
            Step::Put(name) => {
                let hand_off = self.things.put(name, self.simulator.board.world_mut());
                self.until(hand_off.map_err(|why| why.to_string())? + WITHDRAWAL_S, witness);
            }
            Step::Quiet(seconds) => return self.quiet(seconds.0, witness),
            Step::Room(change) => {
                let room = &mut self.simulator.board.world_mut().room;
                room.celsius = change.celsius.unwrap_or(room.celsius);
                room.humidity = change.humidity.unwrap_or(room.humidity);
            }
            Step::Sensor(plug) => self.simulator.board.world_mut().connected = *plug == Plug::In,
            Step::Set(number) => return self.set(*number, witness),
            Step::Spoil(spoilt) => self.spoil(*spoilt),
            Step::Take(name) => {
                let hand_off = self.things.take(name, self.simulator.board.world_mut());
                self.until(hand_off.map_err(|why| why.to_string())? + WITHDRAWAL_S, witness);
            }
            Step::Touch(touch) => self.touch(*touch, witness),
            Step::Wait(seconds) => self.pass(seconds.0, witness),
        }
        Ok(())
    }

    /// The screen now; `None` without power.
    #[must_use]
    pub fn view(&self) -> Option<View> {
        self.simulator.app().map(App::view)
    }

    /// What a knitter asked to be noted and no expectation has looked at yet.
    #[must_use]
    pub fn unasked(&self) -> Vec<Entry> {
        let entries = self.simulator.journal().into_iter();
        let unasked = entries.filter(|entry| entry.sequence > self.asked_up_to);
        unasked.filter(|entry| words::record(&entry.record).is_some()).collect()
    }

    /// At the end nothing may be left that no expectation has looked at, and no mass may have come or gone.
    ///
    /// # Errors
    /// What is left.
    pub fn end(&self) -> Result<(), Unmet> {
        let left = self.unasked();
        if !left.is_empty() {
            let names: Vec<_> = left.iter().filter_map(|entry| words::record(&entry.record)).collect();
            return Err(format!("noted, and never asked for: {}", names.join(", ")));
        }
        self.simulator.app().map_or(Ok(()), expectation::conserves)
    }

    fn switch_on(&mut self, witness: &mut Witness) {
        if !self.simulator.is_on() {
            witness.before_switching_on(self.simulator.board.flash.content());
            self.simulator.switch_on();
            witness.look(&mut self.simulator);
        }
    }

    pub(super) fn pass(&mut self, seconds: f64, witness: &mut Witness) {
        self.simulator.pass(seconds, |simulator| witness.look(simulator));
    }

    fn until(&mut self, world_s: f64, witness: &mut Witness) {
        let now = self.simulator.now_s();
        self.pass((world_s - now).max(0.0), witness);
    }

    fn knit(&mut self, knit: &Knit, witness: &mut Witness) -> Result<(), Unmet> {
        let world = self.simulator.board.world_mut();
        let done = self.things.knit(&knit.from, knit.grams.0, knit.over.0, world);
        self.until(done.map_err(|why| why.to_string())?, witness);
        if let Some(section) = knit.into {
            *self.truth.entry(section).or_default() += knit.grams.0;
        }
        Ok(())
    }

    fn expect(&mut self, expect: &Expect, witness: &mut Witness) -> Result<(), Unmet> {
        let mut patience = expect.by.map_or(0.0, |by| by.0);
        let mut before: Option<Unmet> = None;
        loop {
            match (expectation::check(self, expect), before.as_ref()) {
                (Ok(()), _) => break,
                (Err(unmet), None) if patience <= 0.0 => return Err(unmet),
                (Err(unmet), Some(first)) if patience <= 0.0 && unmet == *first => return Err(unmet),
                (Err(unmet), Some(first)) if patience <= 0.0 => return Err(format!("{first}; then {unmet}")),
                (Err(unmet), _) => {
                    before.get_or_insert(unmet);
                    self.pass(LOOK_EVERY_S, witness);
                    patience -= LOOK_EVERY_S;
                }
            }
        }
        if expect.records.is_some() {
            let last = self.unasked().iter().map(|entry| entry.sequence).max();
            self.asked_up_to = self.asked_up_to.max(last.unwrap_or_default());
        }
        Ok(())
    }

    fn quiet(&mut self, seconds: f64, witness: &mut Witness) -> Result<(), Unmet> {
        let before = self.unasked().len();
        let mut broken = None;
        self.simulator.pass(seconds, |simulator| {
            witness.look(simulator);
            if let Some(view) = simulator.app().map(App::view)
                && matches!(view.body, Body::Notice(_) | Body::Question(_))
            {
                broken.get_or_insert(words::says(&view).unwrap_or_default());
            }
        });
        match broken {
            Some(says) => Err(format!("expected quiet, but it said {says:?}")),
            None if self.unasked().len() != before => Err("expected quiet, but something was noted".to_owned()),
            None => Ok(()),
        }
    }

    fn shake(&mut self, shake: Shake) {
        let world = self.simulator.board.world_mut();
        let now = world.now();
        let random = &mut self.random;
        let disturbance = match shake {
            Shake::Tug => {
                world.tug(now);
                return;
            }
            Shake::Footsteps => Disturbance::footsteps(now, now + 6.0, random),
            Shake::Machine => Disturbance::machine(now, now + 10.0, random),
            Shake::Wobble => Disturbance::wobble(now, random),
            Shake::Knock => Disturbance::knock(now, random),
            Shake::Cat => Disturbance::cat(now, random),
        };
        world.disturb(disturbance);
    }

    fn touch(&mut self, touch: Touch, witness: &mut Witness) {
        let gesture = match touch {
            Touch::Rest => Gesture::Touch,
            Touch::Bump => Gesture::Bump,
            Touch::Press => Gesture::Press,
        };
        let world = self.simulator.board.world_mut();
        let hand_off = world.handle(gesture, world.now()).hand_off;
        self.until(hand_off, witness);
    }

    fn spoil(&mut self, spoilt: Spoilt) {
        let fault = match spoilt {
            Spoilt::BitFlip => DigitalFault::BitFlip(21),
            Spoilt::AllOnes => DigitalFault::AllOnes,
            Spoilt::Saturated => DigitalFault::Saturated,
            Spoilt::Zero => DigitalFault::Zero,
            Spoilt::Shifted => DigitalFault::Shifted,
            Spoilt::Missing => DigitalFault::MissingWord,
            Spoilt::Reset => DigitalFault::Reset,
        };
        let world = self.simulator.board.world_mut();
        world.spoil(fault, world.now());
    }
}

fn world(setting: &Setting, seed: u64) -> World {
    let unit = match setting.scale {
        ScaleKind::Typical => Unit::typical(seed),
        ScaleKind::Drawn => Unit::draw(seed),
    };
    let unit = if setting.reversed { unit.reversed() } else { unit };
    let room = if setting.wandering {
        Room::new(seed)
    } else {
        Room::constant()
    };
    World::new(unit, SampleRate::Ten, room)
}

/// From the last touch of the pan until the same hand can do the next thing, s (engineering assumption).
const WITHDRAWAL_S: f64 = 0.6;
/// While something is awaited the screen is looked at this often, s.
const LOOK_EVERY_S: f64 = 0.1;
