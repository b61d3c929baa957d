//! What a press of MARK does: takes the load that was steady when the finger came, or waits for one, finds out which
//! yarn it is, and notes it or asks.

use super::dispatch::App;
use super::keys::{Key, Press};
use super::pages::Page;
use crate::journal::Record;
use crate::ledger::{Choice, Finding, WhyAsked, recognise};
use crate::measured::Measured;
use crate::screen::{Question, RefusedWord};
use crate::sock::{BowlNumber, Humidity, Weight, YarnLetter};
use crate::units::{Duration, Instant, Milligrams};
use crate::weighing::{Condition, SteadyLoad};

/// A mark waits this long for a steady reading, then is given up aloud.
pub(super) const PATIENCE: Duration = Duration::from_secs(15);

/// A steady load older than this is not the one that the finger meant.
const LATCH_AGE: Duration = Duration(600);

/// Lighter than this, the pan is empty.
pub(super) const EMPTY_BELOW: Milligrams = Milligrams(300);

/// The press that is under way, and the load it means.
#[derive(Clone, Debug, Default)]
pub(super) struct Marking {
    latched: Option<(Key, SteadyLoad)>,
    waiting_until: Option<Instant>,
    /// What was steady for a moment while a mark waited: meant after all if it is taken off before it has stood.
    glimpsed: Option<SteadyLoad>,
    ignored: bool,
    /// The load behind a record that the journal has not yet confirmed.
    pub(super) in_flight: Option<SteadyLoad>,
}

impl Marking {
    pub(super) fn finger_came(&mut self, key: Key, stood: Option<SteadyLoad>) {
        self.ignored = false;
        self.latched = stood.map(|load| (key, load));
    }

    /// The press that woke the display does nothing else.
    pub(super) fn ignore_this_press(&mut self) {
        self.ignored = true;
    }

    pub(super) fn ignores(&self, press: Press) -> bool {
        self.ignored && !matches!(press, Press::Down(_))
    }

    pub(super) fn deadline(&self) -> Option<Instant> {
        self.waiting_until
    }

    pub(super) fn waits(&self) -> bool {
        self.waiting_until.is_some()
    }

    /// The load that was steady when the finger came to this key, if that was just now.
    pub(super) fn take_latched(&mut self, key: Key, now: Instant) -> Option<SteadyLoad> {
        let (_, load) = self.latched.take().filter(|&(latched, _)| latched == key)?;
        // A long press is no reason to lose what was steady when it began.
        (now.since(load.at()).0 <= LATCH_AGE.0.saturating_add(super::keys::HOLD.0)).then_some(load)
    }
}

impl App {
    /// A mark is being taken, or an answer is awaited: nothing else may change the journal now.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        let asks = matches!(self.page, Page::Question { .. } | Page::Calibrate(_));
        asks || self.marking.waits() || self.marking.in_flight.is_some()
    }

    /// MARK was pressed on a page where it means a boundary.
    pub(super) fn mark(&mut self) {
        // A hand that still lifts the pan will be gone in a moment.
        let may_wait = [Condition::Weighing, Condition::Starting, Condition::Underload];
        if !may_wait.contains(&self.scale.condition()) {
            self.refuse(RefusedWord::Faulty);
        } else if !self.book.ledger().is_open() {
            self.refuse(RefusedWord::NoPlan);
        } else if let Some(load) = self.meant_load() {
            self.take_mark(load);
        } else {
            self.marking.waiting_until = Some(self.now + PATIENCE);
            self.marking.glimpsed = None;
        }
    }

    /// The load that was steady when the finger came, else the one that stands steady now. An empty pan that is no longer
    /// steady was not meant: something is being put on it.
    fn meant_load(&mut self) -> Option<SteadyLoad> {
        let stood = self.scale.stood();
        let latched = self.marking.take_latched(Key::Mark, self.now);
        latched
            .filter(|load| stood.is_some() || self.scale.gross(load).value.abs() >= EMPTY_BELOW)
            .or(stood)
    }

    /// A waiting mark takes the load that has stood, or the one that was steady for a moment before it was lifted off, or is given up
    /// when its time is over.
    #[inline(never)]
    pub(super) fn mark_in_time(&mut self) {
        let Some(until) = self.marking.waiting_until else {
            return;
        };
        let holds_something = |load: &SteadyLoad| self.scale.gross(load).value.abs() >= EMPTY_BELOW;
        match (self.scale.stood(), self.scale.steady()) {
            (Some(load), _) => {
                self.marking.waiting_until = None;
                let lifted = self.marking.glimpsed.filter(|_| !holds_something(&load));
                self.take_mark(lifted.unwrap_or(load));
            }
            (None, Some(load)) if holds_something(&load) => self.marking.glimpsed = Some(load),
            _ if self.now >= until => {
                self.marking.waiting_until = None;
                let no_number = self.scale.condition() != Condition::Weighing;
                self.refuse(if no_number {
                    RefusedWord::Faulty
                } else {
                    RefusedWord::NotSteady
                });
            }
            _ => {}
        }
    }

    fn take_mark(&mut self, load: SteadyLoad) {
        let bowl = self.book.bowls().in_use();
        let gross = self.scale.gross(&load);
        let Some(line) = self.cursor() else {
            return self.refuse(RefusedWord::PlanDone);
        };
        let Some(planned) = self.book.ledger().plan().line(line).map(|line| line.yarn) else {
            return;
        };
        if gross.value.abs() < EMPTY_BELOW {
            return self.mark_on_empty_pan(load, planned);
        }
        let weight = self.weight(gross, bowl);
        match recognise(self.book.ledger(), line, weight.net, self.expected(line)) {
            Some(Finding::WeighIn(yarn)) => self.note_load(load, Record::WeighIn { yarn, weight }),
            Some(Finding::Section(yarn, _)) => self.note_load(load, self.boundary(line, yarn, weight, &load)),
            Some(Finding::Ask(why, mut choices)) => {
                if let Some(fitting) = self.fitting_bowl(line, gross, bowl)
                    && !choices.is_full()
                {
                    // There is room: it was looked at.
                    let _ = choices.insert(0, fitting);
                }
                let question = Question {
                    why,
                    weight: weight.net.value,
                    choices,
                    selected: 0,
                };
                self.page = Page::Question { question, load };
                self.sound(crate::board::Tone::Refused);
            }
            None => self.refuse(RefusedWord::PlanDone),
        }
    }

    /// An empty pan can mean that the yarn is used up to its end.
    fn mark_on_empty_pan(&mut self, load: SteadyLoad, planned: YarnLetter) {
        let Some(last) = self.book.ledger().last(planned) else {
            return self.refuse(RefusedWord::EmptyPan);
        };
        let used = last.weight.net.value;
        let mut choices = heapless::Vec::new();
        // Two fit into six places.
        let _ = choices.push(Choice::NotNow);
        let _ = choices.push(Choice::Section { yarn: planned, used });
        let question = Question {
            why: WhyAsked::UsedUp { yarn: planned },
            weight: Milligrams::ZERO,
            choices,
            selected: 0,
        };
        self.page = Page::Question { question, load };
    }

    /// Another bowl, or none, with which the weight would be a plain section.
    fn fitting_bowl(&self, line: u8, gross: Measured, now: Option<BowlNumber>) -> Option<Choice> {
        let others = core::iter::once(None).chain(self.book.bowls().all().map(|(number, _)| Some(number)));
        others.filter(|&bowl| bowl != now).find_map(|bowl| {
            let net = self.net(gross, bowl);
            match recognise(self.book.ledger(), line, net, self.expected(line)) {
                Some(Finding::Section(yarn, used)) => Some(Choice::OtherBowl { bowl, yarn, used }),
                _ => None,
            }
        })
    }

    /// The answer to a question.
    pub(super) fn answer(&mut self, choice: Choice, load: SteadyLoad) {
        let gross = self.scale.gross(&load);
        let in_use = self.book.bowls().in_use();
        let weight = |bowl| self.weight(gross, bowl);
        let Some(line) = self.cursor() else {
            return self.refuse(RefusedWord::PlanDone);
        };
        let record = match choice {
            Choice::Section { yarn, .. } if gross.value.abs() < EMPTY_BELOW => {
                // Nothing is left, exactly.
                let weight = Weight {
                    net: Measured::default(),
                    bowl: None,
                    air: None,
                };
                Record::Mark { line, yarn, weight }
            }
            Choice::Section { yarn, .. } => self.boundary(line, yarn, weight(in_use), &load),
            Choice::OtherBowl { bowl, yarn, .. } => {
                let weight = weight(bowl);
                self.note(Record::Setting(crate::journal::Setting::BowlInUse(bowl)));
                Record::Mark { line, yarn, weight }
            }
            Choice::StartFromHere(yarn) => Record::Unplanned {
                yarn,
                weight: weight(in_use),
            },
            Choice::WeighIn(yarn) => Record::WeighIn {
                yarn,
                weight: weight(in_use),
            },
            Choice::NotNow => return,
        };
        self.note_load(load, record);
    }

    /// A mark, with what is known of what went since the yarn's last weight.
    fn boundary(&self, line: u8, yarn: YarnLetter, weight: Weight, load: &SteadyLoad) -> Record {
        match self.apart(yarn, weight.bowl, load) {
            Some(went_u) => Record::StayMark {
                line,
                yarn,
                weight,
                went_u,
            },
            None => Record::Mark { line, yarn, weight },
        }
    }

    /// The standard uncertainty of what has gone since the yarn's last weight, if that and `load` stand on one zero, mg.
    pub(super) fn apart(&self, yarn: YarnLetter, bowl: Option<BowlNumber>, load: &SteadyLoad) -> Option<f32> {
        let last = self.book.ledger().last(yarn).filter(|last| last.weight.bowl == bowl)?;
        self.scale.apart(self.amending.noted(last.sequence)?, load)
    }

    fn note_load(&mut self, load: SteadyLoad, record: Record) {
        if self.book.ledger().steps().len() >= crate::ledger::MAX_STEPS {
            return self.refuse(RefusedWord::PairFull);
        }
        self.marking.in_flight = Some(load);
        self.note(record);
    }

    /// What is noted of a gross weight in a bowl, with the humidity of the air where a sensor is fitted.
    pub(super) fn weight(&self, gross: Measured, bowl: Option<BowlNumber>) -> Weight {
        let air = self
            .climate
            .map(|climate| Humidity::from_percent(climate.humidity_percent));
        Weight {
            net: self.net(gross, bowl),
            bowl,
            air,
        }
    }

    /// Net of a bowl.
    pub(super) fn net(&self, gross: Measured, bowl: Option<BowlNumber>) -> Measured {
        Measured {
            value: gross.value - self.book.bowls().of(bowl).value,
            u: gross.u,
        }
    }

    /// What a section will likely take: what the same section of the other sock took.
    pub(super) fn expected(&self, line: u8) -> Option<Milligrams> {
        let twin = self.book.ledger().plan().counterpart(line)?;
        self.book.ledger().used(twin).map(|used| used.value)
    }
}
