//! A stretch of the world, recorded with its truth and with what happened in it.

use std::fmt;

use yarn_scale_core::converter::SampleRate;

use crate::world::{BodyId, Calibration, Conversion, DigitalFault, Gesture, Timing, Tug, Unit, World};

/// What an estimator is run over and scored by.
#[derive(Clone, Debug)]
pub struct Recording {
    /// The scale.
    pub unit: Unit,
    /// Its conversion rate.
    pub rate: SampleRate,
    /// Its calibration.
    pub calibration: Calibration,
    /// Every conversion, words that never arrived included.
    pub conversions: Vec<Conversion>,
    /// What happened, by time of beginning.
    pub events: Vec<Event>,
}

/// One thing that happened, instants in world seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event {
    /// A hand at the pan.
    Handling(Gesture, Timing),
    /// A pull on the strand.
    Tug(Tug),
    /// A person walks by, or something else shakes, from and to.
    Shaking(f64, f64),
    /// The load changes by itself, without hand or pull: from, to, grams.
    Change(f64, f64, f64),
    /// Yarn is drawn by pulls between these instants, grams in all.
    Knitting(f64, f64, f64),
    /// A word arrives spoilt.
    Fault(f64, DigitalFault),
    /// MARK is pressed; the true mass of yarn since the last mark is this less, g.
    Mark(f64, f64),
    /// The bowl lies on the pan and is told to the scale.
    Bowl(f64),
}

impl Recording {
    /// How often a hand has emptied the pan; and how often the zero had risen by then, since the pan was last empty, by more than `rest_g`, what
    /// is left behind weighs at least.
    #[must_use]
    pub fn emptied(&self, rest_g: f64) -> [usize; 2] {
        let [mut emptied, mut risen] = [0; 2];
        let mut before = None;
        for event in &self.events {
            let Event::Handling(gesture, timing) = event else {
                continue;
            };
            let empty = |index: &usize| self.conversions.get(*index).is_some_and(|c| c.truth.load_g == 0.0);
            match gesture {
                Gesture::Place => {
                    let last = self.first_from(timing.contact).checked_sub(1);
                    before = last.filter(empty).or(before);
                }
                Gesture::Remove => {
                    if let Some(after) = Some(self.first_from(timing.hand_off)).filter(empty) {
                        emptied += 1;
                        let rose = |from| self.settled_g(after) - self.settled_g(from) > rest_g;
                        risen += usize::from(before.is_some_and(rose));
                    }
                }
                Gesture::Touch | Gesture::Bump | Gesture::Press => {}
            }
        }
        [emptied, risen]
    }
}

impl Event {
    /// When it begins.
    #[must_use]
    pub fn begins(&self) -> f64 {
        match self {
            Self::Handling(_, timing) => timing.contact,
            Self::Tug(tug) => tug.from,
            Self::Shaking(from, _) | Self::Change(from, ..) | Self::Knitting(from, ..) => *from,
            Self::Fault(at, _) | Self::Mark(at, _) | Self::Bowl(at) => *at,
        }
    }
}

impl fmt::Display for Event {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Handling(gesture, timing) => write!(
                f,
                "hand {gesture}, gone after {:.2} s",
                timing.hand_off - timing.contact
            ),
            Self::Tug(tug) => write!(
                f,
                "tug on the strand with {:.1} g, held {:.2} s",
                tug.force_g, tug.hold_s
            ),
            Self::Shaking(from, to) => write!(f, "shaking, {:.2} s", to - from),
            Self::Change(from, to, grams) => write!(f, "change of {grams:.3} g, {:.2} s", to - from),
            Self::Knitting(from, to, grams) => write!(f, "knitting of {grams:.3} g, {:.2} s", to - from),
            Self::Fault(_, fault) => write!(f, "spoilt word: {fault}"),
            Self::Bowl(_) => write!(f, "the bowl is told"),
            Self::Mark(_, grams) => write!(f, "mark, {grams:.3} g since the last"),
        }
    }
}

/// A world that is being recorded.
#[derive(Debug)]
pub struct Recorder {
    /// The world, for whatever the recorder itself does not offer.
    pub world: World,
    rate: SampleRate,
    conversions: Vec<Conversion>,
    events: Vec<Event>,
}

impl Recorder {
    /// Begins a recording.
    #[must_use]
    pub fn new(world: World, rate: SampleRate) -> Self {
        Self {
            world,
            rate,
            conversions: Vec::new(),
            events: Vec::new(),
        }
    }

    /// Notes something that happens.
    pub fn note(&mut self, event: Event) {
        self.events.push(event);
    }

    /// Records until `until`, world seconds.
    pub fn until(&mut self, until: f64) {
        let conversions = &mut self.conversions;
        self.world.advance(until, |conversion| conversions.push(conversion));
    }

    /// Records for `seconds`.
    pub fn wait(&mut self, seconds: f64) {
        self.until(self.world.now() + seconds);
    }

    /// Places a body now and records until the hand has left.
    pub fn place(&mut self, body: crate::world::Body) -> BodyId {
        let (id, timing) = self.world.place(body, self.world.now());
        self.handled(Gesture::Place, timing);
        id
    }

    /// Removes a body now and records until the hand has left.
    pub fn remove(&mut self, id: BodyId) {
        let timing = self.world.remove(id, self.world.now());
        self.handled(Gesture::Remove, timing);
    }

    /// Handles the pan without moving a load and records until the hand has left.
    pub fn handle(&mut self, gesture: Gesture) {
        let timing = self.world.handle(gesture, self.world.now());
        self.handled(gesture, timing);
    }

    /// Knits `grams` from a cake over `seconds` and records it.
    pub fn knit(&mut self, id: BodyId, seconds: f64, grams: f64) {
        let (from, to) = (self.world.now(), self.world.now() + seconds);
        for tug in self.world.knit(id, from, to, grams) {
            self.note(Event::Tug(tug));
        }
        self.note(Event::Knitting(from, to, grams));
        self.until(to);
    }

    /// Spoils the next word.
    pub fn spoil(&mut self, fault: DigitalFault) {
        let now = self.world.now();
        self.world.spoil(fault, now);
        self.note(Event::Fault(now, fault));
    }

    /// Ends the recording.
    #[must_use]
    pub fn finish(mut self) -> Recording {
        self.events.sort_by(|a, b| a.begins().total_cmp(&b.begins()));
        Recording {
            unit: self.world.unit().clone(),
            rate: self.rate,
            calibration: self.world.calibration(),
            conversions: self.conversions,
            events: self.events,
        }
    }

    fn handled(&mut self, gesture: Gesture, timing: Timing) {
        self.note(Event::Handling(gesture, timing));
        self.until(timing.hand_off);
    }
}
