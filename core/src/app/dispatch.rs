//! The one door: each input to where it is dealt with, effects out in order.

use heapless::{Deque, Vec};

use super::amending::Amending;
use super::health::Health;
use super::input::{Effect, Input, Wait};
use super::keys::{Keys, Press, sooner};
use super::marking::Marking;
use super::pages::Page;
use super::sleep::Sleep;
use crate::board::Climate;
use crate::book::Book;
use crate::converter::{ConverterFault, Pace, RawSample, SampleRate};
use crate::forecast::{MOST_KINDS, Wanted, contrast_sections};
use crate::ledger::Ledger;
use crate::screen::{Body, Notice, Status, View};
use crate::sock::History;
use crate::units::{Duration, FineCounts, Instant, Milligrams, Millivolts, Stamp};
use crate::weighing::{Calibration, Scale};

/// Effects that can wait at once. Most are asked for by a load that wakes the scale and that a mark has waited for: power,
/// brightness, a visit, a mark, a sound; and by an emptied pan: power, brightness and four amendments.
pub const EFFECTS: usize = 8;

/// What a shell knows of its hardware.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Configuration {
    /// Most the pan may carry, bowl included.
    pub capacity: Milligrams,
    /// The calibration to begin with, before the journal brings this device's own.
    pub calibration: Calibration,
    /// Whether that one may be trusted for a number; if not, the scale asks to be calibrated.
    pub calibrated: bool,
    /// Version of the program, for the diagnostics page.
    pub version: &'static str,
}

impl Configuration {
    /// A scale as configured. `stored_zero` is where the empty pan last stood.
    pub(super) fn scale(&self, calibration: Calibration, stored_zero: Option<FineCounts>) -> Scale {
        Scale::new(calibration, self.capacity, SampleRate::default(), stored_zero)
    }
}

/// The application.
#[derive(Clone, Debug)]
pub struct App {
    pub(super) now: Instant,
    pub(super) scale: Scale,
    pub(super) keys: Keys,
    pub(super) book: Book,
    pub(super) marking: Marking,
    pub(super) amending: Amending,
    pub(super) page: Page,
    pub(super) sleep: Sleep,
    /// What lay on the pan when its load last changed.
    pub(super) used_at: Option<Milligrams>,
    pub(super) status: Status,
    pub(super) health: Health,
    /// A line chosen on the plan page, in front of the plan's own order.
    pub(super) chosen_line: Option<u8>,
    pub(super) configuration: Configuration,
    /// A backup was restored, and nothing noted since.
    pub(super) restored: bool,
    pub(super) notice: Option<(Notice, Instant)>,
    pub(super) climate: Option<Climate>,
    pub(super) effects: Deque<Effect, EFFECTS>,
    pub(super) dropped_effects: u16,
    pub(super) pace: Pace,
    /// Conversions yet to come that are still settling.
    pub(super) unsettled: u8,
}

impl App {
    /// An application that knows nothing yet: replay the journal into it, then say [`Input::Ready`].
    #[must_use]
    pub fn new(configuration: Configuration) -> Self {
        Self {
            now: Instant::default(),
            scale: configuration.scale(configuration.calibration, None),
            keys: Keys::default(),
            book: Book::new(configuration.capacity),
            marking: Marking::default(),
            amending: Amending::default(),
            page: Page::Pan,
            sleep: Sleep::default(),
            used_at: None,
            status: Status::default(),
            health: Health::default(),
            chosen_line: None,
            configuration,
            restored: false,
            notice: None,
            climate: None,
            effects: Deque::new(),
            dropped_effects: 0,
            pace: Pace::default(),
            unsettled: 0,
        }
    }

    /// Takes one input that happened at `now`. Drain [`Self::poll`] before the next.
    pub fn handle(&mut self, now: Instant, input: Input<'_>) {
        self.now = self.now.max(now);
        match input {
            Input::Adopted(entry) => self.enter(entry),
            Input::Appended(Ok(entry)) => self.confirm(entry),
            Input::Appended(Err(fault)) => self.not_noted(fault),
            Input::Climate(climate) => self.climate = Some(climate),
            Input::Journal(usage) => {
                self.health.journal_percent = Some(usage.percent());
                self.status.journal_filling = usage.is_nearly_full();
            }
            Input::Keys(levels) => {
                let mut keys = self.keys;
                keys.take(now, levels, |press| self.press(press));
                self.keys = keys;
            }
            Input::Ready(cause) => self.ready(cause),
            Input::Refused => self.book.lost(),
            Input::Replayed(replayed) => self.book.take(replayed),
            Input::Sample(sample) => self.sampled(sample),
            Input::Supply(millivolts) => self.supplied(millivolts),
            Input::Tick => {}
        }
        self.time_passed();
    }

    /// The next thing to do, oldest first, until `None`.
    pub fn poll(&mut self) -> Option<Effect> {
        self.effects.pop_front()
    }

    /// How long the shell may rest. Any call of [`Self::handle`] can change it.
    #[must_use]
    pub fn wait(&self) -> Wait {
        let notice = self.notice.map(|(_, until)| until);
        let until = sooner(
            sooner(self.keys.deadline(), notice),
            sooner(self.marking.deadline(), self.sleep.deadline(self.book.settings())),
        );
        Wait {
            until: until.unwrap_or(self.now + LONGEST_REST),
            for_samples: self.wants_samples(),
        }
    }

    /// Whether conversions are worth reading.
    #[must_use]
    pub fn wants_samples(&self) -> bool {
        self.sleep.converter_on()
    }

    /// The screen as it should be now.
    #[must_use]
    #[inline(never)]
    pub fn view(&self) -> View {
        let (body, keys) = if self.sleep.is_dark() {
            (Body::Dark, [crate::screen::KeyWord::Nothing; 3])
        } else if let Some((notice, _)) = self.notice {
            super::pages::notice_view(notice)
        } else {
            super::pages::view(self)
        };
        View {
            body,
            keys,
            status: self.signs(),
            unit: self.book.settings().unit,
            language: self.book.settings().language,
        }
    }

    /// The ledger of the running pair.
    #[must_use]
    pub const fn ledger(&self) -> &Ledger {
        self.book.ledger()
    }

    /// What the sections of the last pairs took.
    #[must_use]
    pub const fn history(&self) -> &History {
        self.book.history()
    }

    /// The sections that a leftover could go into, each for both socks, as the plan has them or as usual.
    #[must_use]
    pub fn contrast_sections(&self) -> Vec<Wanted, MOST_KINDS> {
        contrast_sections(self.book.ledger())
    }

    /// The scale itself.
    #[must_use]
    pub const fn scale(&self) -> &Scale {
        &self.scale
    }

    /// Effects that found no room: 0 unless the proof behind [`EFFECTS`] is wrong.
    #[must_use]
    pub const fn dropped_effects(&self) -> u16 {
        self.dropped_effects
    }

    /// Most the pan may carry.
    #[must_use]
    pub const fn capacity(&self) -> Milligrams {
        self.configuration.capacity
    }

    /// Version of the program, as the shell gave it.
    #[must_use]
    pub const fn version(&self) -> &'static str {
        self.configuration.version
    }

    /// The device's time now.
    #[must_use]
    pub fn stamp(&self) -> Stamp {
        self.book.stamp(self.now)
    }

    /// Whether a number may be shown: the device has a calibration, its own or one from before.
    pub(super) fn is_calibrated(&self) -> bool {
        self.configuration.calibrated || self.book.calibration().is_some()
    }

    fn press(&mut self, press: Press) {
        let woken = self.touched();
        // The press latches the load that stood before the finger came; what follows may shake the pan.
        if let Press::Down(key) = press {
            self.marking.finger_came(key, self.scale.stood());
        }
        if woken {
            self.marking.ignore_this_press();
            return;
        }
        if self.marking.ignores(press) {
            return;
        }
        // Any key closes a notice, and turns no page under it; only MARK held means the mark that the notice is about.
        let closes_notice = matches!(
            press,
            Press::Short(_) | Press::Held(super::keys::Key::Next | super::keys::Key::Zero)
        );
        if closes_notice && self.notice.take().is_some() {
            self.marking.ignore_this_press();
            return;
        }
        let opened_on = core::mem::discriminant(&self.page);
        super::pages::press(self, press);
        // A hold that has turned the page does not run on over the next one.
        if core::mem::discriminant(&self.page) != opened_on {
            self.marking.ignore_this_press();
        }
    }

    /// A conversion, or why there is none. The first few tell at which rate they come, and nothing else.
    fn sampled(&mut self, sample: Result<RawSample, ConverterFault>) {
        let sample = match sample {
            Ok(word) => {
                self.pace.take(self.now);
                match (self.is_unsettled(), self.pace.found()) {
                    (true, _) | (false, None) => return,
                    (false, Some(Err(_))) => Err(ConverterFault::OddRate),
                    (false, Some(Ok(rate))) => {
                        self.scale.run_at(rate);
                        Ok(word)
                    }
                }
            }
            Err(fault) => {
                self.pace.interrupt();
                Err(fault)
            }
        };
        if let Some(event) = self.scale.sample(self.now, sample) {
            self.scale_event(event);
        }
        self.follow_marks();
        self.notice_movement();
    }

    fn supplied(&mut self, millivolts: Millivolts) {
        self.health.supply = Some(millivolts);
        // Back above the limit only with some margin: a sign that comes and goes tells nothing.
        let limit = if self.status.supply_low {
            LOW_SUPPLY.0.saturating_add(100)
        } else {
            LOW_SUPPLY.0
        };
        self.status.supply_low = millivolts.0 < limit;
        if millivolts < EMPTY_SUPPLY {
            self.stop();
        }
    }

    fn signs(&self) -> Status {
        Status {
            doubtful: self.book.troubles().doubtful,
            zero_unproven: !self.scale.zero_point().proven,
            ..self.status
        }
    }

    #[inline(never)]
    fn time_passed(&mut self) {
        if self.notice.is_some_and(|(_, until)| self.now >= until) {
            self.notice = None;
        }
        self.mark_in_time();
        self.fall_asleep();
    }
}

/// The shell looks at its supply and its clock at least this often.
const LONGEST_REST: Duration = Duration::from_secs(1);
/// Below this the battery sign is shown.
const LOW_SUPPLY: Millivolts = Millivolts(3_300);
/// Below this all that draws current is switched off, before the supply breaks down by itself; a key tries again.
const EMPTY_SUPPLY: Millivolts = Millivolts(1_850);
