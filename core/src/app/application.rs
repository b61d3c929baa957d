//! The one door: each input to where it is dealt with, effects out in order.

use heapless::Deque;

use super::bursts::Bursts;
use super::configuration::Configuration;
use super::input::{Effect, Input, Wait};
use super::marking::Marking;
use super::proposing::Proposal;
use super::sleep::Sleep;
use crate::bench::Sheet;
use crate::board::Climate;
use crate::book::{Book, KEPT_MARKS, Stay};
use crate::converter::{ConverterFault, Pace, RawSample, SampleRate};
use crate::journal::StartCause;
use crate::screen::{Body, KeyWord, Notice, Status, View, YarnNames};
use crate::sock::YarnLetter;
use crate::ui::{Health, Keys, Page, sooner};
use crate::units::{Duration, Instant, Milligrams, Stamp};
use crate::weighing::{Condition, Scale, SteadyLoad};

/// Effects that can wait at once. Most are asked for by a bowl that is bare again: power, brightness, an amendment for each mark of the
/// stay, the end of the pair, a visit, and to reckon anew; fewer by a load that wakes the scale and that a mark has waited for, or that gives
/// the check on the bench its results.
pub(super) const EFFECTS: usize = KEPT_MARKS + 7;

/// The application.
#[derive(Clone, Debug)]
pub struct App {
    pub(super) now: Instant,
    pub(super) scale: Scale,
    pub(super) keys: Keys,
    pub(super) book: Book,
    pub(super) marking: Marking,
    pub(super) stay: Stay,
    pub(super) proposal: Option<Proposal>,
    pub(super) page: Page,
    pub(super) sleep: Sleep,
    pub(super) bursts: Bursts,
    /// A plug on the USB feeds the scale.
    pub(super) plugged: bool,
    /// When power came on, and for how long the display was lit on cells since.
    pub(super) started: Stamp,
    pub(super) lit: Duration,
    /// What lay on the pan when its load last changed.
    pub(super) used_at: Option<Milligrams>,
    pub(super) status: Status,
    pub(super) health: Health,
    /// A line chosen on the plan page, in front of the plan's own order.
    pub(super) chosen_line: Option<u8>,
    pub(super) configuration: Configuration,
    /// A backup was restored, and nothing noted since.
    pub(super) restored: bool,
    /// A backup is being restored: no key does anything.
    restoring: bool,
    pub(super) notice: Option<(Notice, Instant)>,
    pub(super) climate: Option<Climate>,
    /// A load that has just settled, and of which nothing was reckoned yet.
    pub(super) settled: Option<SteadyLoad>,
    /// Since when the pan has been lifted.
    lifted_since: Option<Instant>,
    /// It has been for longer than a hand takes to lift a cake off.
    pub(super) lift_stands: bool,
    pub(super) effects: Deque<Effect, EFFECTS>,
    pub(super) dropped_effects: u16,
    pub(super) pace: Pace,
    /// The check on the bench.
    pub(super) sheet: Sheet,
    /// Why the device started.
    pub(super) cause: StartCause,
    /// When there was a number first.
    pub(super) first_number: Option<Instant>,
    /// Conversions yet to come that are still settling.
    pub(super) unsettled: u8,
    /// When the converter was last powered up.
    pub(super) powered_up: Instant,
}

impl App {
    /// An application that knows nothing yet: replay the journal into it, then say [`Input::Ready`].
    #[must_use]
    pub fn new(configuration: Configuration) -> Self {
        Self {
            now: Instant::default(),
            scale: configuration.scale(configuration.calibration, configuration.capacity, None),
            keys: Keys::default(),
            book: Book::new(configuration.capacity),
            marking: Marking::default(),
            stay: Stay::default(),
            proposal: None,
            page: Page::default(),
            sleep: Sleep::default(),
            bursts: Bursts::default(),
            plugged: false,
            started: Stamp::default(),
            lit: Duration::default(),
            used_at: None,
            status: Status::default(),
            health: Health::default(),
            chosen_line: None,
            configuration,
            restored: false,
            restoring: false,
            notice: None,
            climate: None,
            settled: None,
            lifted_since: None,
            lift_stands: false,
            effects: Deque::new(),
            dropped_effects: 0,
            pace: Pace::default(),
            sheet: Sheet::default(),
            cause: StartCause::PowerOn,
            first_number: None,
            unsettled: 0,
            powered_up: Instant::default(),
        }
    }

    /// Takes one input that happened at `now`. Drain [`Self::poll`] before the next.
    pub fn handle(&mut self, now: Instant, input: Input<'_>) {
        if !self.plugged && !self.sleep.is_dark() {
            self.lit = Duration(self.lit.0.saturating_add(now.since(self.now).0));
        }
        self.now = self.now.max(now);
        match input {
            Input::Adopted(entry) => self.enter(entry),
            Input::Appended(Ok(entry)) => self.confirm(entry),
            Input::Appended(Err(fault)) => self.not_noted(fault),
            Input::Check(task) => self.check_for_computer(task),
            Input::AskAnew => self.ask_anew(),
            Input::Climate(climate) => self.climate = Some(climate),
            Input::Drive(shows) => self.drive_shows(shows),
            Input::Journal(usage) => {
                self.health.journal_percent = Some(usage.percent());
                self.status.journal_filling = usage.is_nearly_full();
            }
            Input::Keys(_) if self.restoring => {}
            Input::Keys(levels) => {
                let mut keys = self.keys;
                keys.take(now, levels, |press| self.press(press));
                self.keys = keys;
                self.watch_keys(levels);
            }
            Input::Plugged(plugged) => self.plug(plugged),
            Input::Ready(cause) => self.ready(cause),
            Input::Refused => self.book.lost(),
            Input::Room(room) => self.health.room = room,
            Input::Restoring => {
                self.restoring = true;
                // It is to be seen.
                self.touched();
            }
            // No sleep before the start, however long the clock has run: after a restore it is not the device's first.
            Input::Replayed(replayed) => return self.book.take(replayed),
            Input::Sample(sample) => self.sampled(sample),
            Input::Supply(millivolts) => self.supplied(millivolts),
            Input::Tick => {}
            Input::TimeLost => self.book.lose_time(),
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
            sooner(
                sooner(self.marking.deadline(), self.bursts.due()),
                self.sleep.deadline(self.book.settings()),
            ),
        );
        Wait {
            until: until.unwrap_or(self.now + LONGEST_REST),
            for_samples: self.wants_samples(),
            stopped: self.may_stop(),
        }
    }

    /// Whether conversions are worth reading.
    #[must_use]
    pub fn wants_samples(&self) -> bool {
        self.sleep.converter_on() && !self.between_bursts()
    }

    /// Whether a key is pressed, a plug feeds the scale, or samples come at eighty a second and are shown: then the processor runs as fast
    /// as it can.
    ///
    /// At eighty a second the slow clock has 12 ms for a sample, and drawing a page takes longer. In the dark nothing is drawn, and of a
    /// burst's samples only the sum is taken.
    #[must_use]
    pub fn is_in_haste(&self) -> bool {
        let shows_samples = self.wants_samples() && !self.sleep.is_dark();
        self.plugged || self.keys.is_busy() || shows_samples && self.pace.found() == Some(Ok(SampleRate::Eighty))
    }

    /// The screen as it should be now.
    #[must_use]
    #[inline(never)]
    pub fn view(&self) -> View {
        let (body, keys) = if self.restoring {
            (Body::Notice(Notice::Restoring), [KeyWord::Nothing; 3])
        } else if self.sleep.is_dark() {
            (Body::Dark, [KeyWord::Nothing; 3])
        } else if let Some((notice, _)) = self.notice {
            // Any key closes it.
            (Body::Notice(notice), [KeyWord::Ok; 3])
        } else {
            self.page.view(&self.context())
        };
        View {
            body,
            keys,
            status: self.signs(),
            unit: self.book.settings().unit,
            language: self.book.settings().language,
            names: self.yarn_names(),
        }
    }

    /// Whether a slow processor may take longer for what is shown than a conversion does: all pages but home go through the pair's marks.
    pub(crate) fn is_laborious(&self) -> bool {
        !self.sleep.is_dark() && !matches!(self.page, Page::Pan(_))
    }

    fn yarn_names(&self) -> YarnNames {
        let pair = self.book.ledger().pair();
        let named = |yarn| self.book.yarn_name(pair, yarn).map(|name| (yarn, name.clone()));
        YarnLetter::ALL.into_iter().filter_map(named).collect()
    }

    /// What has been recorded so far, and what it means.
    #[must_use]
    pub const fn book(&self) -> &Book {
        &self.book
    }

    /// The scale itself.
    #[must_use]
    pub const fn scale(&self) -> &Scale {
        &self.scale
    }

    /// The check on the bench.
    #[must_use]
    pub const fn sheet(&self) -> &Sheet {
        &self.sheet
    }

    /// The air beside the cell, where a sensor is fitted.
    #[must_use]
    pub const fn air(&self) -> Option<Climate> {
        self.climate
    }

    /// Effects that found no room: 0 unless the proof behind `EFFECTS` is wrong.
    #[must_use]
    pub const fn dropped_effects(&self) -> u16 {
        self.dropped_effects
    }

    /// Most the pan may carry.
    #[must_use]
    pub const fn capacity(&self) -> Milligrams {
        self.book.capacity()
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
    #[must_use]
    pub fn is_calibrated(&self) -> bool {
        self.configuration.calibrated || self.book.calibration().is_some()
    }

    /// A conversion, or why there is none. The first few tell at which rate they come, and nothing else.
    fn sampled(&mut self, sample: Result<RawSample, ConverterFault>) {
        let sample = match sample {
            Ok(word) => {
                self.pace.take(self.now);
                self.sheet.sample(self.now, word.0);
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
        let Some(sample) = self.seen_in_burst(sample) else {
            return;
        };
        if let Some(event) = self.scale.sample(self.now, sample) {
            self.scale_event(event);
        }
        if self.first_number.is_none() && self.scale.level().is_some() {
            self.first_number = Some(self.now);
        }
        self.lifted_since = match (self.scale.condition(), self.lifted_since) {
            (Condition::Underload, since) => since.or(Some(self.now)),
            (Condition::Starting | Condition::Weighing, _)
            | (Condition::Fault(_) | Condition::Overload | Condition::Reversed, _) => None,
        };
        // With a sample, so that no page changes while time alone passes.
        self.lift_stands = self
            .lifted_since
            .is_some_and(|since| self.now.since(since) >= LIFT_STANDS);
        self.stay.follow(&self.scale);
        self.notice_movement();
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
        self.follow_check();
        self.fall_asleep();
        self.burst_in_time();
    }
}

/// The shell looks at its supply and its clock at least this often.
const LONGEST_REST: Duration = Duration::from_secs(1);
/// A cake that is taken off lifts the pan a little; one that is missing or stuck stays so.
const LIFT_STANDS: Duration = Duration(1_500);
