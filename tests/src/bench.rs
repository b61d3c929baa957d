//! A scale on the bench: the application with a journal in memory and a cell that gives what the test puts on it.

use yarn_scale_core::app::{App, Chip, Configuration, Effect, Input};
use yarn_scale_core::board::Levels;
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::journal::{Entry, Record, Replayed, Sequence, StartCause};
use yarn_scale_core::screen::{Body, ItemLabel, MAX_ROWS, Notice, View, Word};
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;
use yarn_scale_sim::device::paper::{Done, Paper};

use crate::records::without_pair;

/// Counts for a gram of the bench's cell.
pub const COUNTS_PER_GRAM: f64 = 4_295.0;

/// One of the three keys.
#[derive(Clone, Copy, Debug)]
pub enum Key {
    /// ZERO.
    Zero,
    /// MARK.
    Mark,
    /// NEXT.
    Next,
}

/// The bench.
#[derive(Debug)]
pub struct Bench {
    /// The application under test.
    pub app: App,
    /// What its journal holds.
    pub journal: Vec<Entry>,
    /// Every screen since the start, without repeats.
    pub views: Vec<View>,
    /// Sounds and switches it asked for.
    pub effects: Vec<Effect>,
    /// Notes what the application asks for; refuses everything while told to.
    pub paper: Paper,
    now: u64,
    grams: f64,
    noise: u64,
}

impl Bench {
    /// A calibrated scale with an empty pan, four seconds after power-on.
    #[must_use]
    pub fn new() -> Self {
        Self::with_journal(Vec::new(), 0.0)
    }

    /// As it comes from the workbench: nothing is in its journal, and it asks for the language.
    #[must_use]
    pub fn blank() -> Self {
        Self::start(Vec::new(), 0.0, false)
    }

    /// A scale without a calibration that wakes up with this journal.
    #[must_use]
    pub fn uncalibrated_with(journal: Vec<Entry>) -> Self {
        Self::start(journal, 0.0, false)
    }

    /// The same before its first calibration, in English.
    #[must_use]
    pub fn uncalibrated() -> Self {
        let mut bench = Self::blank();
        bench.press(Key::Mark);
        bench
    }

    /// A scale that wakes up with this journal and this load on its pan.
    #[must_use]
    pub fn with_journal(journal: Vec<Entry>, grams: f64) -> Self {
        Self::start(journal, grams, true)
    }

    /// A pair begun from the first preset: cuffs, heels and toes in B.
    #[must_use]
    pub fn with_pair() -> Self {
        let mut bench = Self::new();
        bench.begin_pair();
        let deeds = bench.deeds();
        assert!(
            matches!(deeds.as_slice(), [Record::PairBegun { pair: 1, .. }]),
            "{:?}",
            bench.body()
        );
        bench
    }

    /// Yarn B weighed in with 20 g for the first cuff, pan empty again.
    #[must_use]
    pub fn weighed_in() -> Self {
        let mut bench = Self::with_pair();
        bench.put(20.0);
        bench.press(Key::Mark);
        bench.take();
        bench
    }

    fn start(journal: Vec<Entry>, grams: f64, calibrated: bool) -> Self {
        let calibration = Calibration::straight(FineCounts(0), COUNTS_PER_GRAM as f32).expect("a plain calibration");
        let configuration = Configuration {
            capacity: Milligrams::from_grams(500),
            calibration,
            calibrated,
            version: "test",
            chip: Chip::default(),
        };
        let mut app = App::new(configuration);
        for entry in &journal {
            app.handle(Instant(0), Input::Replayed(Replayed::Entry(entry)));
        }
        let paper = Paper {
            last: journal.last().map_or(Sequence(0), |entry| entry.sequence),
            refuse: None,
        };
        let mut bench = Self {
            app,
            journal,
            views: Vec::new(),
            effects: Vec::new(),
            paper,
            now: 0,
            grams,
            noise: 1,
        };
        bench.tell(Input::Ready(StartCause::PowerOn));
        bench.wait(4.0);
        bench
    }

    /// Cuts the power and restores it: only the journal is left.
    #[must_use]
    pub fn power_cycle(self) -> Self {
        Self::with_journal(self.journal, self.grams)
    }

    /// Lets time pass.
    pub fn wait(&mut self, seconds: f64) {
        let end = self.now + (seconds * 1_000.0) as u64;
        while self.now < end {
            self.now += 10;
            if self.now.is_multiple_of(100) && self.app.wants_samples() {
                self.sample();
            } else {
                self.tell(Input::Tick);
            }
        }
    }

    /// A plug comes onto the USB, or goes.
    pub fn plug(&mut self, plugged: bool) {
        self.tell(Input::Plugged(plugged));
    }

    /// Lets time pass in which nothing comes from the converter.
    pub fn pause(&mut self, seconds: f64) {
        self.now += (seconds * 1_000.0) as u64;
        self.tell(Input::Tick);
    }

    /// Changes the load, and gives it time to settle.
    pub fn put(&mut self, grams: f64) {
        self.set(grams);
        self.wait(4.0);
    }

    /// MARK was pressed as `grams` came down on a scale made by `start`; they have their tick now, but have not stood, and the mark waits.
    /// How soon a tick comes depends on the hand and on the moment.
    ///
    /// # Panics
    /// If they always have stood when the tick comes.
    #[must_use]
    pub fn at_the_tick(start: impl Fn() -> Self, grams: f64) -> Self {
        for tenths in 0..60 {
            let mut bench = start();
            bench.wait(0.1 * f64::from(tenths));
            // A hand lets go of it little by little.
            for beside in [-1.5, 1.0, -0.5, 0.3] {
                bench.set(grams + beside);
                bench.wait(0.2);
            }
            bench.set(grams);
            bench.hold_for(Key::Mark, 0.1);
            while bench.app.scale().steady().is_none() {
                bench.wait(0.1);
            }
            if bench.app.scale().stood().is_none() {
                return bench;
            }
        }
        panic!("they have stood");
    }

    /// Changes the load only.
    pub fn set(&mut self, grams: f64) {
        self.grams = grams;
    }

    /// A hand that cannot leave the load alone: it ends on `grams`.
    pub fn shake(&mut self, grams: f64, seconds: f64) {
        for swing in 0..(seconds * 10.0) as u32 {
            self.set(grams + if swing.is_multiple_of(2) { 2.0 } else { -2.0 });
            self.wait(0.1);
        }
        self.set(grams);
    }

    /// The converter gives nothing for a while, and says why.
    pub fn silence(&mut self, seconds: f64, fault: ConverterFault) {
        for _ in 0..(seconds * 10.0) as u32 {
            self.now += 100;
            self.tell(Input::Sample(Err(fault)));
        }
    }

    /// The converter gives this word again and again.
    pub fn stuck(&mut self, seconds: f64, counts: i32) {
        for _ in 0..(seconds * 10.0) as u32 {
            self.now += 100;
            self.tell(Input::Sample(Ok(RawSample(Counts(counts)))));
        }
    }

    /// Takes everything off the pan.
    pub fn take(&mut self) {
        self.put(0.0);
    }

    /// A short press.
    pub fn press(&mut self, key: Key) {
        self.hold_for(key, 0.1);
    }

    /// A long press.
    pub fn hold(&mut self, key: Key) {
        self.hold_for(key, 1.0);
    }

    /// Begins a pair by the first preset, as a new device leads: cuffs, heels and toes in B, the rest in A.
    pub fn begin_pair(&mut self) {
        for _ in 0..3 {
            self.press(Key::Mark);
        }
    }

    /// Opens a line of the list of everything.
    pub fn open(&mut self, word: Word) {
        self.hold(Key::Next);
        self.choose(word);
    }

    /// Takes the line of the open list that begins with this word.
    ///
    /// # Panics
    /// If there is none, or no list is open.
    pub fn choose(&mut self, word: Word) {
        for _ in 0..MAX_ROWS {
            let highlighted = match self.body() {
                Body::List(list) => list.items[usize::from(list.selected)].label,
                Body::PairSummary(list) => list.items[usize::from(list.selected)].label,
                other => panic!("no list, but {other:?}"),
            };
            if highlighted == ItemLabel::Word(word) {
                return self.press(Key::Mark);
            }
            self.press(Key::Next);
        }
        panic!("the list has no {word:?}");
    }

    /// Holds a key down for a time.
    pub fn hold_for(&mut self, key: Key, seconds: f64) {
        let levels = match key {
            Key::Zero => Levels {
                zero: true,
                ..Levels::default()
            },
            Key::Mark => Levels {
                mark: true,
                ..Levels::default()
            },
            Key::Next => Levels {
                next: true,
                ..Levels::default()
            },
        };
        let end = self.now + (seconds * 1_000.0) as u64;
        while self.now < end {
            self.tell(Input::Keys(levels));
            self.wait(0.01);
        }
        for _ in 0..4 {
            self.tell(Input::Keys(Levels::default()));
            self.wait(0.01);
        }
    }

    /// The screen now.
    #[must_use]
    pub fn body(&self) -> Body {
        self.app.view().body
    }

    /// The notice on the screen.
    ///
    /// # Panics
    /// If there is none.
    #[must_use]
    pub fn notice(&self) -> Notice {
        match self.body() {
            Body::Notice(notice) => notice,
            other => panic!("no notice, but {other:?}"),
        }
    }

    /// The records of the journal but for starts and visits, without their pair's number.
    #[must_use]
    pub fn deeds(&self) -> Vec<Record> {
        let deeds = self.journal.iter().map(|entry| without_pair(&entry.record));
        deeds
            .filter(|record| !matches!(record, Record::Started(_) | Record::Visit { .. }))
            .collect()
    }

    /// Hands an input to the application and does what it asks.
    pub fn tell(&mut self, input: Input<'_>) {
        self.app.handle(Instant(self.now), input);
        while let Some(done) = self.paper.obey(&mut self.app, Instant(self.now)) {
            match done {
                Done::Noted(entry) => self.journal.push(entry),
                Done::Left(effect) => self.effects.push(effect),
                Done::Refused => {}
            }
        }
        let view = self.app.view();
        if self.views.last() != Some(&view) {
            self.views.push(view);
        }
    }

    fn sample(&mut self) {
        // A small generator of our own keeps the bench repeatable: +/- 25 counts, about the data sheet's noise.
        self.noise = self
            .noise
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let noise = i32::try_from(self.noise >> 33).unwrap_or(0) % 51 - 25;
        let counts = (self.grams * COUNTS_PER_GRAM).round() as i32 + noise;
        self.tell(Input::Sample(Ok(RawSample(Counts(counts)))));
    }
}

impl Default for Bench {
    fn default() -> Self {
        Self::new()
    }
}
