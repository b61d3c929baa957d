//! The application in the middle of a recording: samples from the trace go in, and what it notes is reported.

use std::collections::VecDeque;
use std::io::{self, Write};

use yarn_scale_core::app::{App, Chip, Configuration, Input};
use yarn_scale_core::converter::ConverterFault;
use yarn_scale_core::journal::{Entry, PairEvent, Record, Sequence, Setting, StartCause};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Construction, Line, MAX_LINES, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::{Duration, Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;

use super::calibration::RecordedCalibration;
use super::finger::Doing;
use super::presses::Press;
use super::report::{Masses, Report};
use super::trace::TimedSample;
use crate::device::keys::Fingers;
use crate::device::paper::{Done, Paper};

/// An application that is fed a recording.
#[derive(Debug)]
pub struct Session<W> {
    pub(super) app: App,
    pub(super) now: Instant,
    last_sample: Instant,
    pub(super) fingers: Fingers,
    pub(super) presses: VecDeque<Press>,
    pub(super) doing: Option<Doing>,
    /// When the finger last looked what its press came to.
    pub(super) looked: Instant,
    paper: Paper,
    bowls: [Measured; 10],
    pub(super) marks: Vec<Option<Sequence>>,
    pub(super) report: Report<W>,
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
            calibration,
            calibrated: true,
            version: env!("CARGO_PKG_VERSION"),
            chip: Chip::default(),
        };
        let mut session = Self {
            app: App::new(configuration),
            now: start,
            last_sample: start,
            fingers: Fingers::default(),
            presses: presses.into(),
            doing: None,
            looked: start,
            paper: Paper::default(),
            bowls: [Measured::default(); 10],
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
            self.report.press(self.now, doing.event(), Masses::default())?;
        }
        for press in std::mem::take(&mut self.presses) {
            self.report.press(press.at, press.event, Masses::default())?;
        }
        self.report.finish()
    }

    /// Everything that happens between two samples: keys, deadlines, and a converter that is missed.
    fn pass_to(&mut self, until: Instant) -> io::Result<()> {
        loop {
            let missing = self.last_sample + PATIENCE;
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

    /// Hands an input to the application and does what it asks for; the journal here never refuses.
    pub(super) fn tell(&mut self, input: Input<'_>) -> io::Result<()> {
        self.app.handle(self.now, input);
        while let Some(done) = self.paper.obey(&mut self.app, self.now) {
            if let Done::Noted(entry) = done {
                self.noted(&entry)?;
            }
        }
        Ok(())
    }

    /// Reports what a record means for the presses.
    fn noted(&mut self, entry: &Entry) -> io::Result<()> {
        match entry.record.pair_event(0).map(|(_, event)| event) {
            Some(PairEvent::WeighIn { .. } | PairEvent::Mark { .. } | PairEvent::Unplanned { .. }) => {
                if let Some(mark) = self.marks.last_mut() {
                    *mark = Some(entry.sequence);
                }
                let masses = self.masses(entry.sequence);
                self.done(masses)?;
            }
            Some(PairEvent::Amended { of, .. }) => self.amended(of)?,
            Some(PairEvent::Undone { .. }) => self.done(Masses::default())?,
            _ => {}
        }
        match &entry.record {
            Record::Bowl { number, mass } => {
                if let Some(known) = self.bowls.get_mut(usize::from(number.0)) {
                    *known = *mass;
                }
            }
            Record::Setting(Setting::BowlInUse(bowl)) => {
                let bowl = bowl.map_or(0, |bowl| usize::from(bowl.0));
                let mass = self.bowls.get(bowl).copied().unwrap_or_default();
                self.done(Masses::of(mass.value, mass.u, None))?;
            }
            _ => {}
        }
        Ok(())
    }

    /// The corrected mark, and the one behind it, whose amount changes with it.
    fn amended(&mut self, of: Sequence) -> io::Result<()> {
        let steps = self.app.book().ledger().steps();
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
        let ledger = self.app.book().ledger();
        let place = ledger.steps().iter().position(|step| step.sequence == sequence);
        let Some((place, step)) = place.and_then(|place| Some((place, ledger.steps().get(place)?))) else {
            return Masses::default();
        };
        let bowl = step.weight.bowl.map_or(0, |bowl| usize::from(bowl.0));
        let Measured { value, u } = step.weight.net;
        let gross = value + self.bowls.get(bowl).copied().unwrap_or_default().value;
        Masses::of(gross, u, ledger.used_at(place))
    }

    /// A plan as long as one can be, all of one yarn; the yarn's last weight is carried over from the plan before.
    pub(super) fn begin_pair(&mut self) {
        let last = self.app.book().ledger().last(YarnLetter::A).map(|step| step.weight);
        let pair = self.app.book().ledger().pair() + 1;
        let lines = std::iter::repeat_n(ONE_YARN, MAX_LINES).collect();
        self.replayed(Record::PairBegun { pair, lines });
        if let Some(weight) = last {
            let yarn = YarnLetter::A;
            self.replayed(Record::WeighIn { yarn, weight });
        }
    }

    fn replayed(&mut self, record: Record) {
        let entry = self.paper.entry(&self.app, record);
        self.app.handle(self.now, Input::Adopted(&entry));
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

/// Time without a sample after which the converter is missed, as its driver has it.
const PATIENCE: Duration = Duration(500);
