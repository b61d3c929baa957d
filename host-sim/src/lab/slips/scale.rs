//! The device's own application, told a story by its journal and its converter, and pressed.

use yarn_scale_core::app::{App, Chip, Configuration, Input};
use yarn_scale_core::board::Levels;
use yarn_scale_core::converter::RawSample;
use yarn_scale_core::journal::{Entry, PairEvent, Record, Replayed, Sequence, Setting, StartCause};
use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::Body;
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams, Stamp};
use yarn_scale_core::weighing::Calibration;

use super::story::Story;
use crate::device::paper::{Done, Paper};
use crate::world::Stream;

/// Counts for a gram.
const COUNTS_PER_GRAM: f64 = 4_295.0;

/// What the scale did at the press.
#[derive(Clone, Debug, Default)]
pub struct Reaction {
    /// It noted this without a word.
    pub noted: Option<PairEvent>,
    /// It asked, and offered this.
    pub asked: Option<Vec<Choice>>,
    /// Before the press the cake proposed this pair.
    pub proposed: Option<u16>,
    /// MARK once more on its question changed the journal.
    pub harm: bool,
}

struct Bench {
    app: App,
    now: u64,
    grams: f64,
    noise: Stream,
    paper: Paper,
    noted: Vec<Record>,
}

/// Tells the story and presses MARK; on a question, once more.
#[must_use]
pub fn press(story: &Story, noise: Stream) -> Reaction {
    let mut bench = Bench::start(story, noise);
    bench.grams = story.gross;
    bench.wait(4.0);
    let proposed = match bench.app.view().body {
        Body::Pan(pan) => pan.proposal.map(|(pair, _)| pair),
        _ => None,
    };
    bench.mark();
    let mut reaction = Reaction {
        proposed,
        noted: bench.event(),
        ..Reaction::default()
    };
    if let Body::Question(question) = bench.app.view().body {
        reaction.asked = Some(question.choices.to_vec());
        bench.noted.clear();
        bench.mark();
        reaction.harm = bench.event().is_some();
    }
    reaction
}

/// The journal of a story: a time for each record, the last one so many hours before the press.
#[must_use]
pub fn entries(story: &Story) -> Vec<Entry> {
    // A setting that changes nothing brings the clock to the press.
    let end = Record::Setting(Setting::Sound(true));
    let records = story.records.iter().cloned().chain(std::iter::once(end));
    let count = story.records.len() as u32;
    let entry = |(number, record): (u32, Record)| Entry {
        sequence: Sequence(number + 1),
        at: Stamp(if number < count {
            600 * number
        } else {
            600 * number + (story.hours * 3_600.0) as u32
        }),
        record,
    };
    (0..).zip(records).map(entry).collect()
}

impl Bench {
    fn start(story: &Story, noise: Stream) -> Self {
        let configuration = Configuration {
            capacity: Milligrams::from_grams(500),
            calibration: Calibration::straight(FineCounts(0), COUNTS_PER_GRAM as f32).expect("a plain calibration"),
            calibrated: true,
            version: "slips",
            chip: Chip::default(),
        };
        let mut bench = Self {
            app: App::new(configuration),
            now: 0,
            grams: 0.0,
            noise,
            paper: Paper::default(),
            noted: Vec::new(),
        };
        for entry in entries(story) {
            bench.paper.last = entry.sequence;
            bench.app.handle(Instant(0), Input::Replayed(Replayed::Entry(&entry)));
        }
        // Not a power-off, which would count as a day.
        bench.tell(Input::Ready(StartCause::Watchdog));
        bench.wait(3.0);
        // Its notice is read, and closed.
        bench.key(Levels {
            next: true,
            ..Levels::default()
        });
        bench.wait(0.5);
        bench.noted.clear();
        bench
    }

    fn mark(&mut self) {
        self.key(Levels {
            mark: true,
            ..Levels::default()
        });
    }

    fn key(&mut self, levels: Levels) {
        for down in [true, false] {
            for _ in 0..8 {
                self.tell(Input::Keys(if down { levels } else { Levels::default() }));
                self.wait(0.01);
            }
        }
    }

    /// What happened to the pair since the last look.
    fn event(&self) -> Option<PairEvent> {
        let mut events = self.noted.iter().filter_map(|record| record.pair_event(1));
        let (_, event) = events.next_back()?;
        Some(event)
    }

    fn wait(&mut self, seconds: f64) {
        let end = self.now + (seconds * 1_000.0).round() as u64;
        while self.now < end {
            self.now += 10;
            if self.now.is_multiple_of(100) {
                let counts = (self.grams * COUNTS_PER_GRAM + 25.0 * self.noise.normal()).round() as i32;
                self.tell(Input::Sample(Ok(RawSample(Counts(counts)))));
            }
        }
        self.tell(Input::Tick);
    }

    fn tell(&mut self, input: Input<'_>) {
        self.app.handle(Instant(self.now), input);
        while let Some(done) = self.paper.obey(&mut self.app, Instant(self.now)) {
            if let Done::Noted(entry) = done {
                self.noted.push(entry.record);
            }
        }
    }
}
