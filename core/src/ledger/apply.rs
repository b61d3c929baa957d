//! The ledger's state and how each record changes it. Replaying the journal through [`Ledger::apply`] is the only
//! way to get a state, so what the power-off kept is what was there.

use heapless::Vec;

use super::counted::Counting;
use super::moisture::Controls;
use super::pair::Pair;
use super::{MAX_STEPS, Purpose, Step};
use crate::journal::{Entry, Gauge, PairEvent, Record, Sequence, of_a_pair, of_the_device};
use crate::sock::{Decitex, Label, Line, MAX_LINES, Plan, Size, YARNS, YarnLetter};
use crate::units::Stamp;
use crate::weighing::Conditions;

/// A pair: its plan and the chain of weights of each yarn. By itself it follows the pair begun last; see [`super::Needles`].
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ledger {
    pub(super) pair: u16,
    /// Number of the pair begun last, whether or not its records are here.
    begun: u16,
    /// Number of the pair's record applied last.
    pub(super) applied: Applied,
    pub(super) open: bool,
    pub(super) plan: Plan,
    pub(super) steps: Vec<Step, MAX_STEPS>,
    pub(super) skips: Vec<(Sequence, u8), MAX_LINES>,
    /// What the bands of this pair's yarns say.
    pub(super) labels: [Option<Label>; YARNS],
    /// What bands say of yarns in general, from when there was one pair at a time.
    general: [Label; YARNS],
    /// For each yarn: something before its next step may be missing.
    pub(super) doubt: [bool; YARNS],
    controls: Controls,
    pub(super) counting: Counting,
    pub(super) gauge: Gauge,
    conditions: Option<Conditions>,
}

/// Number of a record. Two ledgers that say the same are the same, whichever records they come from.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Applied(Sequence);

impl PartialEq for Applied {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// Number and time of a record.
#[derive(Clone, Copy, Debug)]
pub(super) struct Noted {
    pub(super) sequence: Sequence,
    pub(super) at: Stamp,
}

/// Why a record could not be applied. The record stays in the journal; the ledger is as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum ApplyFault {
    /// The pair holds as many weights as it can.
    Full,
    /// It speaks of a record that is not there.
    NoSuchRecord,
    /// It speaks of a section that the plan does not have.
    NoSuchLine,
    /// A mark of a yarn that was never weighed in.
    NotWeighedIn,
    /// No pair is being knitted.
    NoPair,
    /// It speaks of a record that is no mark of a section.
    NoMark,
}

impl Ledger {
    /// Number of the running or last pair; 0 before the first.
    #[must_use]
    pub const fn pair(&self) -> u16 {
        self.pair
    }

    /// Number of the pair begun last; the next one has the number behind it.
    #[must_use]
    pub const fn begun(&self) -> u16 {
        self.begun
    }

    /// Whether a pair is being knitted.
    #[must_use]
    pub const fn is_open(&self) -> bool {
        self.open
    }

    /// The plan of the pair.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Every weight of the pair: for each yarn in the order of weighing.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// What a yarn's band says.
    #[must_use]
    pub fn label(&self, yarn: YarnLetter) -> Label {
        self.own_label(yarn).unwrap_or_else(|| self.general_label(yarn))
    }

    /// What a yarn's band says of any pair of which nothing else was said.
    #[must_use]
    pub fn general_label(&self, yarn: YarnLetter) -> Label {
        self.general.get(yarn.index()).copied().unwrap_or_default()
    }

    /// What the band of one of this very pair's yarns says, where that was said.
    #[must_use]
    pub fn own_label(&self, yarn: YarnLetter) -> Option<Label> {
        self.labels.get(yarn.index()).copied().flatten()
    }

    /// What a section's use scales with, as far as the plan, the pair and the yarn's band tell.
    #[must_use]
    pub fn size(&self, line: Line) -> Size {
        Size {
            stitches: if line.stitches == 0 {
                self.gauge.stitches
            } else {
                line.stitches
            },
            rounds: 0,
            yarn: Decitex::from_metres_per_100_g(self.label(line.yarn).metres_per_100_g),
        }
    }

    /// Stitches and gauge that hold for the whole pair, as far as they were set.
    #[must_use]
    pub const fn gauge(&self) -> Gauge {
        self.gauge
    }

    /// Says on what scale the pair is weighed: what all its weights have in common goes out of their differences.
    pub fn weighed_on(&mut self, conditions: Conditions) {
        self.conditions = Some(conditions);
    }

    /// What all weights have in common, if it is known.
    pub(super) const fn conditions(&self) -> Option<&Conditions> {
        self.conditions.as_ref()
    }

    /// Weighings of the control skein.
    pub(super) const fn controls(&self) -> &Controls {
        &self.controls
    }

    /// The pair to look at, as one of several.
    #[must_use]
    pub fn as_pair(&self) -> Pair<'_> {
        Pair {
            number: self.pair,
            open: self.open,
            plan: &self.plan,
            steps: &self.steps,
            skips: &self.skips,
            labels: &self.labels,
        }
    }

    /// Whether a line of the plan was skipped.
    #[must_use]
    pub fn is_skipped(&self, line: u8) -> bool {
        self.as_pair().is_skipped(line)
    }

    /// Whether a mark closed the line.
    #[must_use]
    pub fn is_done(&self, line: u8) -> bool {
        self.as_pair().is_done(line)
    }

    /// What the next mark closes: the first open line behind the last one marked or skipped, else the first open one.
    #[must_use]
    pub fn cursor(&self) -> Option<u8> {
        self.as_pair().cursor()
    }

    /// The first line from `from` on that is neither marked nor skipped.
    #[must_use]
    pub fn next_open(&self, from: u8) -> Option<u8> {
        self.as_pair().next_open(from)
    }

    /// The record that an undo takes back: the newest weight or skip.
    #[must_use]
    pub fn newest(&self) -> Option<Sequence> {
        let weights = self.steps.iter().filter(|step| !step.ends());
        let weight = weights.map(|step| step.sequence).max();
        let skip = self.skips.iter().map(|&(sequence, _)| sequence).max();
        weight.max(skip)
    }

    /// The step that a record noted.
    #[must_use]
    pub fn step(&self, of: Sequence) -> Option<&Step> {
        self.steps.iter().find(|step| step.sequence == of)
    }

    /// Notes that records before the next one are missing or damaged. One of them may have amended or undone a yarn's last
    /// step, or have been a step of it: that last step and the next one are in doubt, for every yarn.
    pub fn gap(&mut self) {
        self.doubt = [true; YARNS];
        for yarn in YarnLetter::ALL {
            if let Some(last) = self.steps.iter_mut().rev().find(|step| step.yarn == yarn) {
                last.doubtful = true;
            }
        }
    }

    /// Changes the state by one record of the journal; records that concern others change nothing.
    ///
    /// # Errors
    /// An [`ApplyFault`] where the record contradicts the state; the state is then as it was.
    pub fn apply(&mut self, entry: &Entry) -> Result<(), ApplyFault> {
        self.controls.learn(entry);
        if let Some((pair, event)) = entry.record.pair_event(self.begun) {
            // Of other pairs nothing is known here; what a checkpoint has noted once more was there before.
            let number = entry.number();
            let is_own = pair == self.pair;
            if number <= self.applied.0 || !(is_own || self.as_pair().is_carried(pair, &event)) {
                return Ok(());
            }
            self.applied = Applied(number);
            return if is_own {
                self.apply_event(entry.at, number, &event)
            } else {
                let sequence = number;
                self.carry(Noted { sequence, at: entry.at }, pair, &event)
            };
        }
        match &entry.record {
            // A checkpoint notes the beginning of an open pair once more.
            Record::PairBegun { pair, .. } if *pair <= self.begun => {}
            Record::PairBegun { pair, lines } => self.begin(*pair, lines),
            Record::PairClosed { pair } => self.open &= *pair != self.pair,
            Record::Yarn { letter, label } => {
                if let Some(known) = self.general.get_mut(letter.index()) {
                    *known = *label;
                }
            }
            Record::Lost { .. } => self.gap(),
            Record::Checkpoint { pair, .. } => {
                self.begun = self.begun.max(*pair);
                if !self.open {
                    self.pair = self.begun;
                }
            }
            // What is a pair's is seen to above.
            of_the_device!() | Record::Condensed { .. } | of_a_pair!() => {}
        }
        Ok(())
    }

    /// A pair of this number was begun, or a later one.
    pub(super) fn reached(&mut self, pair: u16) {
        self.begun = self.begun.max(pair);
    }

    pub(super) fn begin(&mut self, pair: u16, lines: &Vec<Line, MAX_LINES>) {
        self.pair = pair;
        self.begun = self.begun.max(pair);
        self.applied = Applied::default();
        self.open = true;
        self.plan = Plan { lines: lines.clone() };
        self.steps.clear();
        self.skips.clear();
        self.counting.clear();
        self.gauge = Gauge::default();
        self.labels = [None; YARNS];
        self.doubt = [false; YARNS];
    }

    fn apply_event(&mut self, at: Stamp, number: Sequence, event: &PairEvent) -> Result<(), ApplyFault> {
        let noted = Noted { sequence: number, at };
        match *event {
            PairEvent::LineChanged { index, line } => self.change_line(index, line)?,
            PairEvent::WeighIn { yarn, weight } => self.push(noted, yarn, weight, Purpose::WeighIn)?,
            PairEvent::Mark {
                line,
                yarn,
                weight,
                used_u,
            } => {
                self.known(line, yarn)?;
                let apart = self.last(yarn).map(|before| before.sequence).zip(used_u);
                self.push(noted, yarn, weight, Purpose::Section(line))?;
                if let Some(step) = self.steps.last_mut() {
                    step.apart = apart;
                }
            }
            PairEvent::Unplanned { yarn, weight } => {
                self.weighed_in(yarn)?;
                self.push(noted, yarn, weight, Purpose::Unplanned)?;
            }
            PairEvent::Amended { of, weight } => {
                let step = self.steps.iter_mut().find(|step| step.sequence == of && !step.ends());
                step.ok_or(ApplyFault::NoSuchRecord)?.amend(weight);
            }
            PairEvent::Undone { of } => self.undo(of)?,
            PairEvent::TakenBack { of } => self.take_back(of)?,
            PairEvent::Moved { of, line } => self.move_mark(of, line)?,
            PairEvent::Skipped { line } => {
                self.plan.line(line).ok_or(ApplyFault::NoSuchLine)?;
                self.skips.push((number, line)).map_err(|_| ApplyFault::Full)?;
            }
            PairEvent::LateMark {
                line,
                yarn,
                weight,
                visited,
                before,
            } => {
                self.known(line, yarn)?;
                self.insert(noted, line, yarn, weight, visited, before)?;
            }
            PairEvent::Carried { yarn, weight, .. } => self.push(noted, yarn, weight, Purpose::WeighIn)?,
            PairEvent::Label { yarn, label } => {
                if let Some(known) = self.labels.get_mut(yarn.index()) {
                    *known = Some(label);
                }
            }
            PairEvent::Reopened => self.open = true,
            PairEvent::Rounds {
                line,
                yarn,
                weight,
                rounds,
            } => self.count(noted, (line, yarn), weight, rounds)?,
            PairEvent::Gauge(gauge) => self.gauge = gauge,
            PairEvent::YarnNamed { .. } => {}
        }
        Ok(())
    }

    fn change_line(&mut self, index: u8, line: Line) -> Result<(), ApplyFault> {
        if let Some(known) = self.plan.lines.get_mut(usize::from(index)) {
            *known = line;
            return Ok(());
        }
        if usize::from(index) != self.plan.lines.len() {
            return Err(ApplyFault::NoSuchLine);
        }
        self.plan.lines.push(line).map_err(|_| ApplyFault::Full)
    }
}
