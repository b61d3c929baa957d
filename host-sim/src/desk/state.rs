//! The desk's state: a device, things to weigh, and what a key of the terminal does to them.

use std::path::Path;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use yarn_scale_core::app::Key;
use yarn_scale_core::board::Tone;

use crate::device::simulator::Simulator;
use crate::failure::Failure;
use crate::play::scenario::{Script, Step};
use crate::play::stage::Stage;
use crate::play::witness::Witness;
use crate::world::things::Things;
use crate::world::{Body, Disturbance, Gesture, Stream};

/// A scale on a desk.
#[derive(Debug)]
pub struct Desk {
    /// The device and the world.
    pub simulator: Simulator,
    /// What lies in the basket and on the pan.
    pub things: Things,
    /// How many times faster than the wall clock time passes: one of [`SPEEDS`].
    pub speed: u32,
    /// What was done last, and what was heard.
    pub said: String,
    /// The long help is shown.
    pub help: bool,
    /// The yarn that was last on the pan: what is knitted from.
    knitting: Option<String>,
    hand_rests: bool,
    random: Stream,
}

/// Whether the desk goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Next {
    /// It does.
    Stay,
    /// It is left.
    Leave,
}

impl Desk {
    /// A desk with an invented pair half-way through.
    ///
    /// # Errors
    /// [`Failure::Unmet`] if the opening does not come out as it should.
    pub fn half_way() -> Result<Self, Failure> {
        let said = "An invented pair, half-way: the heel of sock 2 is nearly done. Try m.";
        Self::played(&[("opening.toml", OPENING)], said)
    }

    /// A desk with the same pair finished.
    ///
    /// # Errors
    /// [`Failure::Unmet`] if the opening does not come out as it should.
    pub fn finished() -> Result<Self, Failure> {
        let said = "The pair is finished: put the socks on (9) for \"Pair check\", wash them (l) for \"Dry yet?\".";
        Self::played(&[("opening.toml", OPENING), ("finished.toml", FINISHED)], said)
    }

    /// A desk with a scale that was never switched on before: not calibrated, and nothing noted.
    ///
    /// # Errors
    /// [`Failure::Unmet`] if the opening does not come out as it should.
    pub fn as_built() -> Result<Self, Failure> {
        let said = "A new scale: it asks for its parts, then it wants to be calibrated.";
        Self::played(&[("as_built.toml", AS_BUILT)], said)
    }

    /// Plays one opening behind the other, on the stage of the first.
    fn played(openings: &[(&str, &str)], said: &str) -> Result<Self, Failure> {
        let scripts = openings
            .iter()
            .map(|(name, opening)| Script::parse(Path::new(name), opening))
            .collect::<Result<Vec<_>, _>>()?;
        let Some(first) = scripts.first() else {
            return Err(Failure::Here("a desk without an opening".to_owned()));
        };
        let seed = first.scenario.world.seed;
        let mut stage = Stage::new(first, seed);
        let mut witness = Witness::default();
        let mut knitted = 0.0;
        for script in &scripts {
            for (place, step) in script.scenario.steps.iter().enumerate() {
                let met = stage.play(step.get_ref(), &mut witness);
                met.map_err(|unmet| Failure::Unmet(script.complain(place, unmet).to_string()))?;
                if let Step::Knit(knit) = step.get_ref() {
                    knitted += knit.grams.0;
                }
            }
        }
        let socks = Body::wool(knitted);
        stage.things.add(SOCKS, socks, false, stage.simulator.now_s());
        let yarn = stage
            .things
            .all()
            .iter()
            .rev()
            .find(|thing| thing.yarn && thing.on_pan());
        let knitting = yarn.map(|thing| thing.name.clone());
        Ok(Self {
            simulator: stage.simulator,
            things: stage.things,
            speed: SPEEDS[0],
            said: said.to_owned(),
            help: false,
            knitting,
            hand_rests: false,
            random: Stream::new(seed, 30),
        })
    }

    /// Lets `seconds` of the wall clock pass.
    pub fn pass(&mut self, seconds: f64) {
        self.pass_world(seconds * f64::from(self.speed));
    }

    fn pass_world(&mut self, seconds: f64) {
        self.simulator.pass(seconds, |simulator| {
            simulator.board.take_inputs();
        });
        for tone in self.simulator.board.take_tones() {
            self.said = match tone {
                Tone::Noted => "♪ a short, high tone: noted".to_owned(),
                Tone::Refused => "♪ a low tone: refused, or a question".to_owned(),
            };
        }
    }

    /// A key of the terminal.
    pub fn key(&mut self, key: KeyEvent) -> Next {
        if key.modifiers.contains(KeyModifiers::CONTROL) {
            return if key.code == KeyCode::Char('c') {
                Next::Leave
            } else {
                Next::Stay
            };
        }
        if std::mem::take(&mut self.help) {
            return Next::Stay;
        }
        let KeyCode::Char(letter) = key.code else {
            return Next::Stay;
        };
        match letter {
            'q' => return Next::Leave,
            '?' => self.help = true,
            'z' | 'm' | 'n' | 'Z' | 'M' | 'N' => self.device_key(letter),
            '1'..='9' => self.put_or_take(letter),
            'k' => self.knit(0.5),
            'K' => self.knit(5.0),
            't' => self.tug(),
            'b' => self.bump(),
            'f' => self.footsteps(),
            'h' => self.hand(),
            'w' => self.warm(2.0),
            'c' => self.warm(-2.0),
            'd' => self.day(),
            'l' => self.wash(),
            'p' => self.power(),
            's' => self.sensor(),
            ' ' => self.faster(),
            _ => self.said = format!("{letter:?} does nothing here; ? explains the keys"),
        }
        Next::Stay
    }

    fn device_key(&mut self, letter: char) {
        if !self.simulator.is_on() {
            self.said = "the power is off; p brings it back".to_owned();
            return;
        }
        let (key, name) = match letter.to_ascii_lowercase() {
            'z' => (Key::Zero, "ZERO"),
            'm' => (Key::Mark, "MARK"),
            _ => (Key::Next, "NEXT"),
        };
        if letter.is_ascii_uppercase() {
            self.simulator.keep_down(key);
            self.said = format!("{name} held");
        } else {
            self.simulator.press(key);
            self.said = format!("{name} pressed");
        }
    }

    fn put_or_take(&mut self, digit: char) {
        let place = digit.to_digit(10).map_or(0, |digit| digit as usize).saturating_sub(1);
        let Some(thing) = self.things.all().get(place) else {
            self.said = format!("there is no thing number {digit}");
            return;
        };
        let (name, on_pan, yarn) = (thing.name.clone(), thing.on_pan(), thing.yarn);
        let world = self.simulator.board.world_mut();
        let done = if on_pan {
            self.things.take(&name, world)
        } else {
            self.things.put(&name, world)
        };
        self.said = match done {
            Ok(_) if on_pan => format!("{name} is lifted off"),
            Ok(_) => format!("{name} is put on the pan"),
            Err(why) => format!("{name}: {why}"),
        };
        if yarn {
            self.knitting = Some(name);
        }
    }

    fn knit(&mut self, grams: f64) {
        let Some(name) = self.knitting.clone() else {
            self.said = "no yarn has been on the pan yet".to_owned();
            return;
        };
        // A gram a minute is quick knitting; that is too long to wait at a desk.
        let seconds = grams * 4.0;
        let world = self.simulator.board.world_mut();
        let knitted = self.things.knit(&name, grams, seconds, world);
        self.said = match knitted.and_then(|_| self.things.grow(SOCKS, grams)) {
            Ok(()) => format!("{grams} g are knitted from {name}"),
            Err(why) => format!("{name}: {why}"),
        };
    }

    fn wash(&mut self) {
        let now = self.simulator.now_s();
        self.said = match self.things.wash(SOCKS, now) {
            Ok(()) => "the socks are washed and spun; they dry within a day or two".to_owned(),
            Err(why) => format!("the socks: {why}"),
        };
    }

    fn tug(&mut self) {
        let world = self.simulator.board.world_mut();
        world.tug(world.now());
        self.said = "a tug on the strand".to_owned();
    }

    fn bump(&mut self) {
        let world = self.simulator.board.world_mut();
        world.handle(Gesture::Bump, world.now());
        self.said = "something bumps against the pan".to_owned();
    }

    fn footsteps(&mut self) {
        let world = self.simulator.board.world_mut();
        let now = world.now();
        world.disturb(Disturbance::footsteps(now, now + 6.0, &mut self.random));
        self.said = "somebody walks by".to_owned();
    }

    fn hand(&mut self) {
        self.hand_rests = !self.hand_rests;
        let world = self.simulator.board.world_mut();
        if self.hand_rests {
            world.hand_on(HAND_G);
            self.said = "a hand rests on the pan; h takes it away".to_owned();
        } else {
            world.hand_off();
            self.said = "the hand is gone".to_owned();
        }
    }

    fn warm(&mut self, kelvin: f64) {
        let room = &mut self.simulator.board.world_mut().room;
        room.celsius = (room.celsius + kelvin).clamp(0.0, 40.0);
        self.said = format!(
            "the room goes to {:.0} degrees; the cell follows in a quarter of an hour",
            room.celsius
        );
    }

    fn day(&mut self) {
        self.pass_world(86_400.0);
        self.said = "a day later; a display that sleeps is woken by any key".to_owned();
    }

    fn power(&mut self) {
        if self.simulator.is_on() {
            self.simulator.switch_off();
            self.said = "the power is cut; p brings it back".to_owned();
        } else {
            self.simulator.switch_on();
            self.said = "the power is back".to_owned();
        }
    }

    fn sensor(&mut self) {
        let world = self.simulator.board.world_mut();
        world.connected = !world.connected;
        let what = if world.connected {
            "plugged in again"
        } else {
            "unplugged; s puts it back"
        };
        self.said = format!("the sensor is {what}");
    }

    fn faster(&mut self) {
        let place = SPEEDS.iter().position(|&speed| speed == self.speed).unwrap_or(0);
        self.speed = SPEEDS[(place + 1) % SPEEDS.len()];
        self.said = match self.speed {
            1 => "as fast as the wall clock".to_owned(),
            speed => format!("{speed} times as fast as the wall clock"),
        };
    }

    /// Whether a hand rests on the pan.
    #[must_use]
    pub fn hand_rests(&self) -> bool {
        self.hand_rests
    }
}

/// How fast time can pass.
pub const SPEEDS: [u32; 3] = [1, 10, 60];

/// Weight of a resting hand, g (engineering assumption).
const HAND_G: f64 = 25.0;

/// What everything that is knitted goes into.
const SOCKS: &str = "socks";

/// What has happened before the desk is shown.
const OPENING: &str = include_str!("opening.toml");
/// What happens behind that until the pair is finished.
const FINISHED: &str = include_str!("finished.toml");
/// A scale that is switched on for the first time.
const AS_BUILT: &str = include_str!("as_built.toml");
