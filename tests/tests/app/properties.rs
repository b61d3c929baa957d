//! The application under arbitrary hands: it never panics, loses no effect, and makes no mass appear or vanish.

use proptest::prelude::*;
use yarn_scale_core::app::{App, Chip, Configuration, Effect, Input};
use yarn_scale_core::board::{Climate, Levels};
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::journal::{Entry, JournalFault, Replayed, Sequence, StartCause};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams, Millivolts};
use yarn_scale_core::weighing::Calibration;
use yarn_scale_tests::bench::{Bench, Key};

/// One thing that happens.
#[derive(Clone, Debug)]
enum Event {
    Keys(Levels),
    Load(i32),
    Raw(i32),
    Silence(ConverterFault),
    Supply(u16),
    Climate(f32),
    Pass(u32),
    Refuse(bool),
}

fn event() -> impl Strategy<Value = Event> {
    let levels = (any::<bool>(), any::<bool>(), any::<bool>());
    prop_oneof![
        8 => levels.prop_map(|(zero, mark, next)| Event::Keys(Levels { zero, mark, next })),
        6 => (0..600_000_i32).prop_map(Event::Load),
        1 => any::<i32>().prop_map(Event::Raw),
        1 => prop_oneof![Just(ConverterFault::Missing), Just(ConverterFault::StuckLow)].prop_map(Event::Silence),
        1 => (2_000..5_500_u16).prop_map(Event::Supply),
        1 => any::<f32>().prop_map(Event::Climate),
        4 => (1..20_000_u32).prop_map(Event::Pass),
        1 => any::<bool>().prop_map(Event::Refuse),
    ]
}

/// The application with a journal that may refuse, fed with events.
struct Hands {
    app: App,
    journal: Vec<Entry>,
    now: u64,
    load: i32,
    refuse: bool,
}

impl Hands {
    fn new(calibrated: bool) -> Self {
        let calibration = Calibration::straight(FineCounts(0), 4_295.0).expect("a plain calibration");
        let capacity = Milligrams::from_grams(500);
        let app = App::new(Configuration {
            capacity,
            calibration,
            calibrated,
            version: "test",
            chip: Chip::default(),
        });
        let mut hands = Self {
            app,
            journal: Vec::new(),
            now: 0,
            load: 0,
            refuse: false,
        };
        hands.tell(Input::Ready(StartCause::PowerOn));
        hands
    }

    fn happen(&mut self, event: &Event) {
        match *event {
            Event::Keys(levels) => {
                self.tell(Input::Keys(levels));
                self.now += 30;
                self.tell(Input::Keys(levels));
            }
            Event::Load(milligrams) => {
                self.load = milligrams;
                self.settle(15);
            }
            Event::Raw(counts) => self.tell(Input::Sample(Ok(RawSample(Counts(counts))))),
            Event::Silence(fault) => self.tell(Input::Sample(Err(fault))),
            Event::Supply(millivolts) => self.tell(Input::Supply(Millivolts(millivolts))),
            Event::Climate(x) => self.tell(Input::Climate(Climate {
                humidity_percent: x,
                celsius: x,
            })),
            Event::Pass(ms) => {
                self.now += u64::from(ms);
                self.tell(Input::Tick);
            }
            Event::Refuse(refuse) => self.refuse = refuse,
        }
    }

    fn settle(&mut self, samples: u64) {
        for place in 0..samples {
            self.now += 100;
            // A few counts to and fro, so that nothing looks stuck.
            let wobble = i32::try_from(place * 7 % 11).unwrap_or(0) - 5;
            let counts = (f64::from(self.load) * 4.295) as i32 + wobble;
            self.tell(Input::Sample(Ok(RawSample(Counts(counts)))));
        }
    }

    fn tell(&mut self, input: Input<'_>) {
        self.app.handle(Instant(self.now), input);
        while let Some(effect) = self.app.poll() {
            let Effect::Append(record) = effect else { continue };
            if self.refuse {
                self.app
                    .handle(Instant(self.now), Input::Appended(Err(JournalFault::Full)));
                continue;
            }
            let sequence = Sequence(u32::try_from(self.journal.len()).expect("short") + 1);
            let entry = Entry {
                sequence,
                at: self.app.stamp(),
                record,
            };
            self.app.handle(Instant(self.now), Input::Appended(Ok(&entry)));
            self.journal.push(entry);
        }
        let _ = self.app.view();
    }

    /// What must hold after every event.
    fn check(&self) -> Result<(), TestCaseError> {
        prop_assert_eq!(self.app.dropped_effects(), 0);
        for yarn in YarnLetter::ALL {
            let account = self.app.book().ledger().account(yarn);
            prop_assert_eq!(
                account.weighed_in,
                account.used + account.unplanned + account.left,
                "{:?}",
                yarn
            );
        }
        Ok(())
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(if cfg!(debug_assertions) { 96 } else { 512 }))]

    /// Weigh-in = used + unplanned + left, exactly, in milligrams, whatever is pressed, put on, torn off or refused.
    #[test]
    fn no_mass_appears_or_vanishes(calibrated in prop::bool::weighted(0.9), events in prop::collection::vec(event(), 1..200)) {
        let mut hands = Hands::new(calibrated);
        for event in &events {
            hands.happen(event);
            hands.check()?;
        }
    }

    /// What is replayed is what was: a power cut between any two presses changes nothing.
    #[test]
    fn replay_gives_the_same_ledger(events in prop::collection::vec(event(), 1..120)) {
        let mut hands = Hands::new(true);
        for event in &events {
            hands.happen(event);
        }
        let mut again = Hands::new(true).app;
        for entry in &hands.journal {
            again.handle(Instant(0), Input::Replayed(Replayed::Entry(entry)));
        }
        prop_assert_eq!(hands.app.book().ledger(), again.book().ledger());
    }

    /// A knitter who marks, undoes and answers at random on a running pair: the sums hold there, too.
    #[test]
    fn a_running_pair_keeps_its_sums(steps in prop::collection::vec((0..6_u8, 1_000..110_000_i32), 1..40)) {
        let mut bench = Bench::new();
        bench.begin_pair();
        for (what, milligrams) in steps {
            match what {
                0 | 1 => bench.put(f64::from(milligrams) / 1_000.0),
                2 | 3 => bench.press(Key::Mark),
                4 => bench.hold(Key::Mark),
                _ => bench.press(Key::Next),
            }
            for yarn in YarnLetter::ALL {
                let account = bench.app.book().ledger().account(yarn);
                prop_assert_eq!(account.weighed_in, account.used + account.unplanned + account.left);
            }
        }
        prop_assert!(bench.app.book().ledger().is_open());
    }

    /// Nothing but time that has not come changes nothing: an early tick is harmless.
    #[test]
    fn an_early_tick_changes_nothing(events in prop::collection::vec(event(), 1..60)) {
        let mut hands = Hands::new(true);
        for event in &events {
            hands.happen(event);
        }
        let before = hands.app.view();
        let until = hands.app.wait().until.0;
        if until > hands.now {
            hands.app.handle(Instant(until - 1), Input::Tick);
            prop_assert_eq!(hands.app.poll(), None);
            prop_assert_eq!(hands.app.view(), before);
        }
    }
}
