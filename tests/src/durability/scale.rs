//! A scale at one point of a story, with the oracle beside it.

use std::rc::Rc;

use yarn_scale_core::journal::{Entry, Journal, JournalFault, Record, Setting};
use yarn_scale_core::ledger::condense;
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::{Counts, SimFlash};

use super::{Found, Model, Step};

/// A scale at one point of a story.
#[derive(Debug)]
pub struct Scale {
    pub(super) flash: SimFlash,
    journal: Journal,
    pub(super) model: Model,
    /// What each step so far has noted.
    pub(super) noted: Vec<Option<Rc<Entry>>>,
    /// The step that power cut off is done after all.
    pub(super) done: bool,
}

/// How a step ended.
pub(super) enum Outcome {
    Done(Option<Entry>),
    /// Power failed while this was being noted, or while nothing was.
    Cut(Option<Record>),
}

impl Scale {
    /// A scale with a blank flash of this many bytes.
    ///
    /// # Errors
    /// If that does not open.
    pub fn new(capacity: usize) -> Result<Self, String> {
        let mut flash = SimFlash::blank(capacity);
        let (journal, _) = Found::open(&mut flash).map_err(|fault| format!("does not open: {fault:?}"))?;
        Ok(Self {
            flash,
            journal,
            model: Model::default(),
            noted: Vec::new(),
            done: false,
        })
    }

    pub(super) fn copy(&self) -> Self {
        Self {
            flash: self.flash.copy(),
            journal: self.journal.clone(),
            model: self.model.clone(),
            noted: self.noted.clone(),
            done: self.done,
        }
    }

    /// What a step does to the flash from here.
    pub(super) fn takes(&self, step: &Step) -> Result<Counts, String> {
        let mut copy = self.copy();
        copy.flash.forget_counts();
        copy.tell(step)?;
        Ok(*copy.flash.counts())
    }

    /// Does a step; power may fail in it.
    pub(super) fn tell(&mut self, step: &Step) -> Result<Outcome, String> {
        let noted_before = |back: usize| {
            let place = self.noted.len() - back;
            self.noted[place].clone().expect("a step that notes something")
        };
        let record = match step {
            Step::Note(record) => record.clone(),
            Step::Amend(back) => amended(&noted_before(*back)),
            Step::Undo(back) => Record::Undone {
                of: noted_before(*back).sequence,
            },
            Step::Condense => condense(self.model.ledger()),
            Step::MakeRoom => match self.journal.room(&mut self.flash) {
                Ok(Some(room)) => Record::Setting(Setting::KeptFrom(room.from)),
                Ok(None) => return Ok(Outcome::Done(None)),
                Err(fault) => return Err(format!("{fault:?}")),
            },
            Step::Tidy => {
                return match self.journal.tidy(&mut self.flash) {
                    Ok(()) => Ok(Outcome::Done(None)),
                    Err(_) if self.flash.is_off() => Ok(Outcome::Cut(None)),
                    Err(fault) => Err(format!("{fault:?}")),
                };
            }
            Step::Restart => {
                self.restart(None)?;
                return Ok(Outcome::Done(None));
            }
        };
        match self.append(record.clone()) {
            Ok(entry) => Ok(Outcome::Done(Some(entry))),
            Err(_) if self.flash.is_off() => Ok(Outcome::Cut(Some(record))),
            Err(fault) => Err(format!("{fault:?}")),
        }
    }

    pub(super) fn append(&mut self, record: Record) -> Result<Entry, JournalFault> {
        let at = Stamp(u32::try_from(self.noted.len()).unwrap_or(u32::MAX));
        let entry = self.journal.append(&mut self.flash, at, record)?;
        self.model.confirm(entry.clone());
        Ok(entry)
    }

    /// Power comes back: opens the journal twice and checks it; reading must not write.
    pub(super) fn restart(&mut self, in_flight: Option<&Record>) -> Result<(), String> {
        self.flash.power_on();
        let (journal, found) = Found::open(&mut self.flash).map_err(|fault| format!("does not open: {fault:?}"))?;
        let before = *self.flash.counts();
        let (_, again) = Found::open(&mut self.flash).map_err(|fault| format!("does not open twice: {fault:?}"))?;
        if again != found || self.flash.counts().operations() != before.operations() {
            return Err("the second start finds something else".to_owned());
        }
        self.journal = journal;
        let known = self.model.len();
        self.model.check(&found, in_flight)?;
        self.done |= self.model.len() > known;
        Ok(())
    }

    /// Does a step although power may fail in it, again after each start until it is done; before each attempt `arm` may
    /// put a cut in store. Gives the number of cuts.
    ///
    /// # Errors
    /// What was lost, believed wrongly or did not go on.
    pub fn tell_until_done(&mut self, step: &Step, mut arm: impl FnMut(&mut SimFlash)) -> Result<u64, String> {
        let mut cuts = 0;
        let mut noted = None;
        self.done = false;
        while !self.done {
            arm(&mut self.flash);
            match self.tell(step)? {
                Outcome::Done(entry) => {
                    noted = entry;
                    self.done = true;
                }
                Outcome::Cut(in_flight) => {
                    cuts += 1;
                    self.restart(in_flight.as_ref())?;
                    noted = self.model.last_marked().filter(|_| self.done);
                }
            }
        }
        self.noted.push(noted.map(Rc::new));
        Ok(cuts)
    }

    /// One last start.
    ///
    /// # Errors
    /// What was lost or believed wrongly.
    pub fn end(&mut self) -> Result<(), String> {
        self.restart(None)
    }
}

/// An amendment of a weight by a few milligrams.
fn amended(entry: &Entry) -> Record {
    let weight = match entry.record {
        Record::WeighIn { weight, .. } | Record::Mark { weight, .. } | Record::SharedZeroMark { weight, .. } => weight,
        ref other => unreachable!("stories amend weights, not {other:?}"),
    };
    let mut weight = weight;
    weight.net.value.0 += 7;
    Record::Amended {
        of: entry.sequence,
        weight,
    }
}
