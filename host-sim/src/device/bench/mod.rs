//! A scale on the bench: the application with a journal in memory, keys, and a cell that gives what is put on it.
//!
//! It is the shortest way to whatever the device can show or note: pictures of pages are made on it, and the application is tested on it.

mod deeds;
mod keys;

pub use deeds::without_pair;
pub use keys::Key;

use yarn_scale_core::app::{App, Chip, Configuration, Effect, Input};
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::journal::{Entry, Record, Replayed, RingName, Sequence, StartCause};
use yarn_scale_core::screen::View;
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;

use super::paper::{Done, Paper};

/// Counts for a gram of the bench's cell.
pub const COUNTS_PER_GRAM: f64 = 4_295.0;

/// The bench.
#[derive(Clone, Debug)]
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
        Self::uncalibrated_with(Vec::new())
    }

    /// A scale without a calibration that wakes up with this journal.
    #[must_use]
    pub fn uncalibrated_with(journal: Vec<Entry>) -> Self {
        Self::started(journal, 0.0, false, |_| false)
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
        Self::with_damaged(journal, grams, |_| false)
    }

    /// The same where these records cannot be read any more.
    #[must_use]
    pub fn with_damaged(journal: Vec<Entry>, grams: f64, damaged: impl Fn(&Record) -> bool) -> Self {
        Self::started(journal, grams, true, damaged)
    }

    /// The same at the moment of power-on, before its first conversion.
    #[must_use]
    pub fn just_on(journal: Vec<Entry>, grams: f64) -> Self {
        Self::switched_on(journal, grams, true, |_| false)
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

    fn started(journal: Vec<Entry>, grams: f64, calibrated: bool, damaged: impl Fn(&Record) -> bool) -> Self {
        let mut bench = Self::switched_on(journal, grams, calibrated, damaged);
        bench.wait(4.0);
        bench
    }

    fn switched_on(journal: Vec<Entry>, grams: f64, calibrated: bool, damaged: impl Fn(&Record) -> bool) -> Self {
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
            let among = RingName::Marks;
            let replayed = if damaged(&entry.record) {
                Replayed::Gap { among, missing: 1 }
            } else {
                Replayed::Entry(entry)
            };
            app.handle(Instant(0), Input::Replayed(replayed));
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
        bench
    }

    /// Cuts the power and restores it: only the journal is left.
    #[must_use]
    pub fn power_cycle(self) -> Self {
        Self::with_journal(self.journal, self.grams)
    }

    /// The application's time.
    #[must_use]
    pub const fn now(&self) -> Instant {
        Instant(self.now)
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

    /// Time passes, and the application is not told.
    pub fn pass(&mut self, seconds: f64) {
        self.now += (seconds * 1_000.0) as u64;
    }

    /// A plug comes onto the USB, or goes.
    pub fn plug(&mut self, plugged: bool) {
        self.tell(Input::Plugged(plugged));
    }

    /// A computer brings a record into the journal; what is of a pair is of the one in hand.
    pub fn adopt(&mut self, record: Record) {
        let entry = self.paper.entry(&self.app, self.app.of_pair_in_hand(record));
        self.tell(Input::Adopted(&entry));
        self.journal.push(entry);
    }

    /// Lets time pass in which nothing comes from the converter.
    pub fn pause(&mut self, seconds: f64) {
        self.pass(seconds);
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
