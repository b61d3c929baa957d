//! The application in the middle of a recording: samples from the trace, and a finger that presses what the marks say.
//!
//! A knitter who stood there would not leave a page open or a question unanswered, and neither does this finger:
//!
//! - A dark display is woken, a notice closed, a page left shortly before the next press.
//! - A press that the scale refuses, or gives up, is reported with nulls.
//! - A question after a mark is answered "the section took it", whatever was found strange; where that is not offered
//!   (heavier than the last mark), "start from here". Either way the next mark counts from this one. Where neither is
//!   offered (the same as at the last mark) nothing is noted, and the press is reported with what it would have been.
//! - A tare is the page of bowls and its first line: the load on the pan as a new bowl, or no bowl if the pan is empty.

use std::collections::VecDeque;
use std::io::{self, Write};

use yarn_scale_core::app::{App, Configuration, Effect, Input, Key};
use yarn_scale_core::converter::{ConverterFault, SampleRate};
use yarn_scale_core::journal::{Entry, Record, Sequence, Setting, StartCause};
use yarn_scale_core::ledger::{Line, MAX_LINES, YarnLetter};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{Body, Choice, Notice, Question};
use yarn_scale_core::section::{Construction, SectionKind, Sock};
use yarn_scale_core::units::{Duration, Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;

use super::calibration::RecordedCalibration;
use super::presses::{Event, Press};
use super::report::{Masses, Report};
use super::trace::TimedSample;
use crate::fingers::Fingers;

/// An application that is fed a recording.
#[derive(Debug)]
pub struct Session<W> {
    app: App,
    now: Instant,
    last_sample: Instant,
    patience: Duration,
    fingers: Fingers,
    presses: VecDeque<Press>,
    doing: Option<Doing>,
    sequence: Sequence,
    bowls: [Milligrams; 10],
    marks: Vec<Option<Sequence>>,
    report: Report<W>,
}

/// A press under way.
#[derive(Clone, Copy, Debug)]
struct Doing {
    event: Event,
    since: Instant,
}

impl<W: Write> Session<W> {
    /// A scale with this calibration, switched on at `start` with one yarn on its plan.
    ///
    /// # Errors
    /// What writing the report says.
    pub fn new(
        recorded: &RecordedCalibration,
        calibration: Calibration,
        presses: Vec<Press>,
        start: Instant,
        report: Report<W>,
    ) -> io::Result<Self> {
        let configuration = Configuration {
            // Checked to be at most 2 kg.
            capacity: Milligrams((recorded.capacity_g * 1_000.0) as i32),
            rate: recorded.rate,
            calibration,
            calibrated: true,
            version: env!("CARGO_PKG_VERSION"),
        };
        let mut session = Self {
            app: App::new(configuration),
            now: start,
            last_sample: start,
            patience: match recorded.rate {
                SampleRate::Ten => Duration(500),
                SampleRate::Eighty => Duration(63),
            },
            fingers: Fingers::default(),
            presses: presses.into(),
            doing: None,
            sequence: Sequence(0),
            bowls: [Milligrams::ZERO; 10],
            marks: Vec::new(),
            report,
        };
        session.replayed(Record::Setting(Setting::SleepMinutes(30)));
        session.begin_pair();
        session.tell(Input::Ready(StartCause::PowerOn))?;
        Ok(session)
    }

    /// Time passes up to the sample, then the scale takes it and its answer is reported.
    ///
    /// # Errors
    /// What writing the report says.
    pub fn sample(&mut self, sample: TimedSample) -> io::Result<()> {
        self.pass_to(sample.at)?;
        self.last_sample = sample.at;
        self.tell(Input::Sample(Ok(sample.raw)))?;
        self.report.sample(sample.at, &self.app.scale().readout())
    }

    /// The recording is over: presses that never took effect are reported with nulls.
    ///
    /// # Errors
    /// What writing the report says.
    pub fn finish(mut self) -> io::Result<()> {
        if let Some(doing) = self.doing.take() {
            self.report.press(self.now, doing.event, Masses::default())?;
        }
        for press in std::mem::take(&mut self.presses) {
            self.report.press(press.at, press.event, Masses::default())?;
        }
        self.report.finish()
    }

    /// Everything that happens between two samples: keys, deadlines, and a converter that is missed.
    fn pass_to(&mut self, until: Instant) -> io::Result<()> {
        loop {
            let missing = self.last_sample + self.patience;
            let deadlines = [
                self.fingers.next_change(),
                self.attention(),
                Some(self.app.wait().until),
            ];
            let next = deadlines.into_iter().flatten().fold(missing, Instant::min);
            let next = next.max(self.now + Duration(1));
            if next > until {
                self.now = until;
                return Ok(());
            }
            self.now = next;
            let levels = self.fingers.levels(next);
            self.tell(Input::Keys(levels))?;
            if next >= missing && next < until {
                self.last_sample = next;
                self.tell(Input::Sample(Err(ConverterFault::Missing)))?;
            }
            self.attend()?;
        }
    }

    /// When the finger has to look at the screen next.
    fn attention(&self) -> Option<Instant> {
        let free = self.fingers.free_at();
        match (self.doing, self.presses.front()) {
            (Some(_), _) if self.now < free => Some(free),
            (Some(_), _) => Some(self.now + LOOK_EVERY),
            (None, Some(press)) if self.now < press.at => {
                let early = Instant(press.at.0.saturating_sub(PREPARATION.0.into()));
                Some(if self.now < early { early } else { press.at })
            }
            (None, Some(_)) => Some(self.now.max(free)),
            (None, None) => None,
        }
    }

    /// The finger looks at the screen and does the next thing.
    fn attend(&mut self) -> io::Result<()> {
        if self.now < self.fingers.free_at() {
            return Ok(());
        }
        if let Some(doing) = self.doing {
            return self.go_on(doing);
        }
        let Some(&press) = self.presses.front() else {
            return Ok(());
        };
        if self.now + PREPARATION < press.at {
            return Ok(());
        }
        match self.app.view().body {
            Body::Pan(_) | Body::Fault(_) => {}
            Body::Dark | Body::Notice(_) => {
                self.fingers.press(Key::Next, self.now);
                return Ok(());
            }
            _ => {
                self.fingers.press(Key::Zero, self.now);
                return Ok(());
            }
        }
        if self.now >= press.at {
            self.presses.pop_front();
            if press.event == Event::Mark {
                self.marks.push(None);
                if self.app.ledger().cursor().is_none() {
                    self.begin_pair();
                }
            }
            self.doing = Some(Doing {
                event: press.event,
                since: self.now,
            });
            match press.event {
                Event::Mark => self.fingers.press(Key::Mark, self.now),
                Event::Zero => self.fingers.press(Key::Zero, self.now),
                Event::Undo => self.fingers.hold(Key::Mark, self.now),
                Event::Tare => {}
            }
            let levels = self.fingers.levels(self.now);
            self.tell(Input::Keys(levels))?;
        }
        Ok(())
    }

    /// The press has been made: the screen says what it came to, or asks.
    fn go_on(&mut self, doing: Doing) -> io::Result<()> {
        match (self.app.view().body, doing.event) {
            (Body::Notice(Notice::ZeroSet), Event::Zero) => {
                self.done(Masses::nothing_on_the_pan())?;
            }
            (Body::Notice(Notice::Refused(_)), _) => self.done(Masses::default())?,
            (Body::Question(question), _) => self.answer(&question)?,
            (Body::List(_), Event::Tare) => self.fingers.press(Key::Mark, self.now),
            (Body::Pan(pan), Event::Tare) if pan.steady => self.fingers.hold(Key::Zero, self.now),
            // ZERO on a loaded pan is another question, which this press did not mean.
            (Body::List(_), Event::Zero) => self.done(Masses::default())?,
            _ if self.now.since(doing.since) >= GIVEN_UP => self.done(Masses::default())?,
            _ => {}
        }
        Ok(())
    }

    fn answer(&mut self, question: &Question) -> io::Result<()> {
        let is_section = |choice: &Choice| matches!(choice, Choice::Section { .. });
        let from_here = |choice: &Choice| matches!(choice, Choice::StartFromHere(_));
        let position = |wanted: &dyn Fn(&Choice) -> bool| question.choices.iter().position(wanted);
        let Some(wanted) = position(&is_section).or_else(|| position(&from_here)) else {
            self.fingers.press(Key::Zero, self.now);
            return self.not_a_section(question);
        };
        let rows = question.choices.len();
        let down = (wanted + rows - usize::from(question.selected) % rows) % rows;
        for _ in 0..down {
            self.fingers.press(Key::Next, self.now);
        }
        self.fingers.press(Key::Mark, self.now);
        Ok(())
    }

    /// Hardly a milligram more than at the last mark: there is nothing to note, but something to report.
    fn not_a_section(&mut self, question: &Question) -> io::Result<()> {
        let last = self.app.ledger().last(YarnLetter::A).map(|step| step.weight.net);
        let u = self.app.scale().readout().gross.map_or(0.0, |gross| gross.u);
        let net = Measured {
            value: question.weight,
            u,
        };
        let bowl = self.app.scale().tared().map_or(Milligrams::ZERO, |bowl| bowl.value);
        self.done(Masses::of(net.value + bowl, u, last.map(|last| last.minus(net))))
    }

    fn done(&mut self, masses: Masses) -> io::Result<()> {
        match self.doing.take() {
            Some(doing) => self.report.press(self.now, doing.event, masses),
            None => Ok(()),
        }
    }

    /// Hands an input to the application and does what it asks for; the journal here never refuses.
    fn tell(&mut self, input: Input<'_>) -> io::Result<()> {
        self.app.handle(self.now, input);
        while let Some(effect) = self.app.poll() {
            if let Effect::Append(record) = effect {
                let entry = self.entry(record);
                self.app.handle(self.now, Input::Appended(Ok(&entry)));
                self.noted(&entry)?;
            }
        }
        Ok(())
    }

    fn entry(&mut self, record: Record) -> Entry {
        self.sequence = Sequence(self.sequence.0 + 1);
        Entry {
            sequence: self.sequence,
            at: self.app.stamp(),
            record,
        }
    }

    /// Reports what a record means for the presses.
    fn noted(&mut self, entry: &Entry) -> io::Result<()> {
        match &entry.record {
            Record::WeighIn { .. } | Record::Mark { .. } | Record::Unplanned { .. } => {
                if let Some(mark) = self.marks.last_mut() {
                    *mark = Some(entry.sequence);
                }
                let masses = self.masses(entry.sequence);
                self.done(masses)?;
            }
            Record::Amended { of, .. } => self.amended(*of)?,
            Record::Undone { .. } => self.done(Masses::default())?,
            Record::Bowl { number, mass } => {
                if let Some(known) = self.bowls.get_mut(usize::from(number.0)) {
                    *known = mass.value;
                }
            }
            Record::Setting(Setting::BowlInUse(bowl)) => {
                let bowl = bowl.map_or(0, |bowl| usize::from(bowl.0));
                let mass = self.bowls.get(bowl).copied().unwrap_or_default();
                self.done(Masses::of(mass, 0.0, None))?;
            }
            _ => {}
        }
        Ok(())
    }

    /// The corrected mark, and the one behind it, whose amount changes with it.
    fn amended(&mut self, of: Sequence) -> io::Result<()> {
        let steps = self.app.ledger().steps();
        let later = steps.iter().position(|step| step.sequence == of);
        let later = later.and_then(|place| steps.get(place + 1)).map(|step| step.sequence);
        for sequence in std::iter::once(of).chain(later) {
            let masses = self.masses(sequence);
            if let Some(index) = self.marks.iter().position(|&mark| mark == Some(sequence)) {
                self.report.amend(self.now, index, masses)?;
            }
        }
        Ok(())
    }

    fn masses(&self, sequence: Sequence) -> Masses {
        let ledger = self.app.ledger();
        let place = ledger.steps().iter().position(|step| step.sequence == sequence);
        let Some((place, step)) = place.and_then(|place| Some((place, ledger.steps().get(place)?))) else {
            return Masses::default();
        };
        let bowl = step.weight.bowl.map_or(0, |bowl| usize::from(bowl.0));
        let Measured { value, u } = step.weight.net;
        let gross = value + self.bowls.get(bowl).copied().unwrap_or_default();
        Masses::of(gross, u, ledger.went(place))
    }

    /// A plan as long as one can be, all of one yarn; the yarn's last weight is carried over from the plan before.
    fn begin_pair(&mut self) {
        let last = self.app.ledger().last(YarnLetter::A).map(|step| step.weight);
        let pair = self.app.ledger().pair() + 1;
        let lines = std::iter::repeat_n(ONE_YARN, MAX_LINES).collect();
        self.replayed(Record::PairBegun { pair, lines });
        if let Some(weight) = last {
            let yarn = YarnLetter::A;
            self.replayed(Record::WeighIn { yarn, weight });
        }
    }

    fn replayed(&mut self, record: Record) {
        let entry = self.entry(record);
        self.app.handle(self.now, Input::Replayed(&entry));
    }
}

/// The section that every mark closes: of a kind that can take much, so that no amount is thought strange early.
const ONE_YARN: Line = Line {
    kind: SectionKind::Leg,
    sock: Sock::First,
    yarn: YarnLetter::A,
    construction: Construction::Plain,
    stitches: 0,
};
/// How long before a press the finger looks whether the screen is ready for it.
const PREPARATION: Duration = Duration(600);
/// While a press is under way the finger looks this often.
const LOOK_EVERY: Duration = Duration(20);
/// A press that has come to nothing by then is given up: longer than the scale itself waits for a steady load.
const GIVEN_UP: Duration = Duration::from_secs(25);
