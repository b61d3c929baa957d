//! The one door: each input to where it is dealt with, effects out in order.

use heapless::Deque;

use super::amending::Amending;
use super::bowls::Bowls;
use super::clock::DeviceClock;
use super::health::Health;
use super::input::{Effect, Input, Wait};
use super::keys::{Keys, Press};
use super::marking::{EMPTY_BELOW, Marking};
use super::pages::Page;
use super::settings::Settings;
use super::sleep::Sleep;
use super::visits::{Visit, Visits};
use crate::board::{Climate, Tone};
use crate::converter::SampleRate;
use crate::forecast::History;
use crate::journal::{Entry, Record, Setting, StartCause};
use crate::ledger::Ledger;
use crate::screen::{Body, Notice, RefusedWord, RestartWord, Status, View};
use crate::units::{Duration, FineCounts, Instant, Milligrams, Millivolts, Stamp};
use crate::weighing::{Calibration, Scale, ScaleEvent, SteadyLoad};

/// Effects that can wait at once. Most are asked for by a load that wakes the scale and that a mark has waited for: power,
/// brightness, a visit, a mark, a sound; and by an emptied pan: power, brightness and four amendments.
pub const EFFECTS: usize = 8;

/// How long a notice stays if no key is pressed and the pan is left alone.
const NOTICE_TIME: Duration = Duration::from_secs(6);
/// How long it stays once the load is lifted.
const READING_TIME: Duration = Duration::from_secs(2);

/// What a shell knows of its hardware.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Configuration {
    /// Most the pan may carry, bowl included.
    pub capacity: Milligrams,
    /// The converter's strap.
    pub rate: SampleRate,
    /// The calibration to begin with, before the journal brings this device's own.
    pub calibration: Calibration,
    /// Whether that one may be trusted for a number; if not, the scale asks to be calibrated.
    pub calibrated: bool,
    /// Version of the program, for the diagnostics page.
    pub version: &'static str,
}

/// The application.
#[derive(Clone, Debug)]
pub struct App {
    pub(super) now: Instant,
    pub(super) scale: Scale,
    pub(super) keys: Keys,
    pub(super) ledger: Ledger,
    pub(super) bowls: Bowls,
    pub(super) settings: Settings,
    pub(super) visits: Visits,
    pub(super) marking: Marking,
    pub(super) amending: Amending,
    pub(super) page: Page,
    pub(super) sleep: Sleep,
    pub(super) status: Status,
    pub(super) history: History,
    pub(super) health: Health,
    /// A line chosen on the plan page, in front of the plan's own order.
    pub(super) chosen_line: Option<u8>,
    /// The device has been calibrated, or came with a calibration.
    pub(super) calibrated: bool,
    /// Number of the last pair that is in the journal in short.
    pub(super) condensed: u16,
    calibrated_at: Stamp,
    configuration: Configuration,
    stored_zero: Option<FineCounts>,
    clock: DeviceClock,
    notice: Option<(Notice, Instant)>,
    climate: Option<Climate>,
    effects: Deque<Effect, EFFECTS>,
    dropped_effects: u16,
}

impl App {
    /// An application that knows nothing yet: replay the journal into it, then say [`Input::Ready`].
    #[must_use]
    pub fn new(configuration: Configuration) -> Self {
        Self {
            now: Instant::default(),
            scale: scale(configuration, None),
            keys: Keys::default(),
            ledger: Ledger::default(),
            bowls: Bowls::default(),
            settings: Settings::default(),
            visits: Visits::default(),
            marking: Marking::default(),
            amending: Amending::default(),
            page: Page::Pan,
            sleep: Sleep::default(),
            status: Status::default(),
            history: History::default(),
            health: Health::default(),
            chosen_line: None,
            calibrated: configuration.calibrated,
            condensed: 0,
            calibrated_at: Stamp::default(),
            configuration,
            stored_zero: None,
            clock: DeviceClock::default(),
            notice: None,
            climate: None,
            effects: Deque::new(),
            dropped_effects: 0,
        }
    }

    /// Takes one input that happened at `now`. Drain [`Self::poll`] before the next.
    pub fn handle(&mut self, now: Instant, input: Input<'_>) {
        self.now = self.now.max(now);
        match input {
            Input::Appended(Ok(entry)) => self.confirm(entry),
            Input::Appended(Err(fault)) => self.not_noted(fault),
            Input::Climate(climate) => self.climate = Some(climate),
            Input::Gap => {
                self.ledger.gap();
                self.health.gaps = self.health.gaps.saturating_add(1);
                self.status.doubtful = true;
            }
            Input::Keys(levels) => {
                let mut keys = self.keys;
                keys.take(now, levels, |press| self.press(press));
                self.keys = keys;
            }
            Input::Ready(cause) => self.ready(cause),
            Input::Replayed(entry) => self.replay(entry),
            Input::Sample(sample) => {
                if let Some(event) = self.scale.sample(now, sample) {
                    self.scale_event(event);
                }
            }
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
        let deadlines = [
            self.keys.deadline(),
            notice,
            self.marking.deadline(),
            self.sleep.deadline(&self.settings),
        ];
        let until = deadlines.into_iter().flatten().min().unwrap_or(self.now + LONGEST_REST);
        Wait {
            until,
            for_samples: self.sleep.converter_on(),
        }
    }

    /// The screen as it should be now.
    #[must_use]
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
            unit: self.settings.unit,
            language: self.settings.language,
        }
    }

    /// The ledger of the running pair.
    #[must_use]
    pub const fn ledger(&self) -> &Ledger {
        &self.ledger
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

    pub(super) fn emit(&mut self, effect: Effect) {
        if self.effects.push_back(effect).is_err() {
            self.dropped_effects = self.dropped_effects.saturating_add(1);
        }
    }

    /// Asks the journal to note a record, unless the supply could fail during the write.
    pub(super) fn note(&mut self, record: Record) {
        if self.health.supply.is_some_and(|supply| supply < LEAST_TO_WRITE) {
            self.refuse(RefusedWord::SupplyLow);
        } else {
            self.emit(Effect::Append(record));
        }
    }

    pub(super) fn show(&mut self, notice: Notice) {
        self.notice = Some((notice, self.now + NOTICE_TIME));
    }

    /// Hands are at work again: what was said is read by now, or soon.
    fn shorten_notice(&mut self) {
        if let Some((_, until)) = &mut self.notice {
            *until = (*until).min(self.now + READING_TIME);
        }
    }

    pub(super) fn refuse(&mut self, word: RefusedWord) {
        self.show(Notice::Refused(word));
        self.sound(Tone::Refused);
    }

    pub(super) fn sound(&mut self, tone: Tone) {
        if self.settings.sound {
            self.emit(Effect::Beep(tone));
        }
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
        self.clock.stamp(self.now)
    }

    fn press(&mut self, press: Press) {
        let woken = self.touched();
        // The press latches the load that was steady before the finger came; what follows may shake the pan.
        if let Press::Down(key) = press {
            self.marking.finger_came(key, self.scale.readout().steady);
        }
        if woken {
            self.marking.ignore_this_press();
            return;
        }
        if self.marking.ignores(press) {
            return;
        }
        let closes_notice = matches!(press, Press::Short(_)) && self.notice.take().is_some();
        if closes_notice {
            return;
        }
        let opened_on = core::mem::discriminant(&self.page);
        super::pages::press(self, press);
        // A hold that has turned the page does not run on over the next one.
        if core::mem::discriminant(&self.page) != opened_on {
            self.marking.ignore_this_press();
        }
    }

    fn scale_event(&mut self, event: ScaleEvent) {
        match event {
            ScaleEvent::Settled(load) => {
                self.visit(load);
                self.settled(load);
                self.refresh();
            }
            ScaleEvent::Lifted => {
                self.touched();
                self.shorten_notice();
            }
            ScaleEvent::Emptied => {
                self.touched();
                self.amend();
            }
        }
    }

    /// Keeps a load that the pan has not just seen already: a footstep is no new visit.
    fn visit(&mut self, load: SteadyLoad) {
        let gross = self.scale.gross(&load);
        let bowl = self.bowls.in_use();
        let last = self.visits.newest_first().next();
        let seen = last.is_some_and(|last| (last.gross.value - gross.value).abs() < NEW_VISIT && last.bowl == bowl);
        if seen || gross.value.abs() < EMPTY_BELOW {
            return;
        }
        self.touched();
        self.note(Record::Visit {
            gross,
            bowl,
            zero: self.scale.zero_point().level,
        });
    }

    fn replay(&mut self, entry: &Entry) {
        self.clock.learn(entry.at);
        self.adopt(entry);
    }

    /// Takes a record that is in the journal into the state. The same for replay and for what was noted just now.
    pub(super) fn adopt(&mut self, entry: &Entry) {
        if let Record::PairBegun { .. } = entry.record {
            self.remember_pair();
        }
        // A record that contradicts the ledger stays in the journal and out of the sums; the sign says so.
        if self.ledger.apply(entry).is_err() {
            self.status.doubtful = true;
        }
        match &entry.record {
            Record::Bowl { number, mass } => self.bowls.remember(*number, *mass),
            Record::Calibrated(calibration) => {
                self.configuration.calibration = *calibration;
                self.calibrated = true;
                self.calibrated_at = entry.at;
                // An older zero says nothing on another calibration's empty pan.
                self.stored_zero = None;
                self.scale = scale(self.configuration, None);
            }
            Record::Setting(Setting::BowlInUse(bowl)) => self.bowls.use_bowl(*bowl),
            Record::Setting(setting) => {
                self.settings.set(*setting);
                self.scale.set_unit(self.settings.unit);
            }
            Record::Condensed { pair, sections } => {
                self.condensed = self.condensed.max(*pair);
                self.history
                    .record(super::needs::condensed_record(&self.ledger, *pair, sections));
            }
            Record::Started(StartCause::Watchdog | StartCause::Panic(_)) => {
                self.health.restarts = self.health.restarts.saturating_add(1);
            }
            Record::Visit { gross, bowl, zero } => {
                self.visits.push(Visit {
                    at: entry.at,
                    gross: *gross,
                    bowl: *bowl,
                });
                // Replay gives visits after all else.
                if entry.at >= self.calibrated_at {
                    self.stored_zero = Some(*zero);
                }
            }
            _ => {}
        }
        self.show_net();
    }

    /// The display shows the net of the bowl in use, in the chosen unit.
    fn show_net(&mut self) {
        if self.scale.tared() != Some(self.bowls.tare()) {
            self.scale.tare(self.bowls.tare());
        }
    }

    /// The running pair's records join the history.
    pub(super) fn remember_pair(&mut self) {
        if self.ledger.pair() > 0 {
            self.history.record(super::needs::pair_record(&self.ledger));
        }
    }

    /// Answers that are on the screen are asked anew when the pan or the ledger has changed.
    pub(super) fn refresh(&mut self) {
        match self.page {
            Page::Leftover { .. } => super::pages::leftover::open(self),
            Page::Rest { yarn, .. } => super::pages::rest::show(self, yarn),
            _ => {}
        }
    }

    fn ready(&mut self, cause: StartCause) {
        self.scale = scale(self.configuration, self.stored_zero);
        self.show_net();
        self.emit(Effect::ConverterPower(true));
        self.emit(Effect::Brightness(self.settings.panel_brightness()));
        self.note(Record::Started(cause));
        // Power may have failed between closing the last pair and condensing it.
        self.condense_closed();
        match cause {
            StartCause::PowerOn => {}
            StartCause::Watchdog => self.show(Notice::Restarted(RestartWord::Hang)),
            StartCause::Panic(code) => self.show(Notice::Restarted(RestartWord::Error(code))),
        }
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
    }

    fn signs(&self) -> Status {
        Status {
            zero_unproven: !self.scale.readout().zero_proven,
            ..self.status
        }
    }

    fn time_passed(&mut self) {
        if self.notice.is_some_and(|(_, until)| self.now >= until) {
            self.notice = None;
        }
        self.mark_in_time();
        self.fall_asleep();
    }
}

/// The scale as configured; before its first calibration with the data sheet's nominal sensitivity, and no number shown.
fn scale(configuration: Configuration, stored_zero: Option<FineCounts>) -> Scale {
    Scale::new(
        configuration.calibration,
        configuration.capacity,
        configuration.rate,
        stored_zero,
    )
}

/// A load that differs by less from the last one is the same visit.
const NEW_VISIT: Milligrams = Milligrams(200);
/// The shell looks at its supply and its clock at least this often.
const LONGEST_REST: Duration = Duration::from_secs(1);
/// Below this the battery sign is shown.
const LOW_SUPPLY: Millivolts = Millivolts(3_300);
/// Below this nothing is written: power could fail during the write.
const LEAST_TO_WRITE: Millivolts = Millivolts(2_900);
