//! The oracle: a plain list of what was confirmed, and what a journal that was opened must show of it.

use std::collections::BTreeMap;
use std::rc::Rc;

use yarn_scale_core::journal::{Entry, Record, RingName};
use yarn_scale_core::ledger::{Ledger, Step};
use yarn_scale_core::sock::{Label, Plan, YarnLetter};

use super::Found;
use super::found::ring_of;

/// Everything that was confirmed, in order, and the state that it gives.
#[derive(Clone, Debug, Default)]
pub struct Model {
    pairs: Vec<Rc<Entry>>,
    marks: Vec<Rc<Entry>>,
    visits: Vec<Rc<Entry>>,
    ledger: Ledger,
    standing: BTreeMap<String, Record>,
    /// An end was unreadable at some start: from then on a step can be in doubt.
    doubt: bool,
    /// Rings that ended unreadably at the last start.
    torn: Vec<RingName>,
}

impl Model {
    /// The journal has confirmed this entry, or shown it after a start.
    pub fn confirm(&mut self, entry: Entry) {
        self.ledger.apply(&entry).expect("stories are in order");
        if let Some(key) = standing_key(&entry.record) {
            self.standing.insert(key, entry.record.clone());
        }
        let ring = match ring_of(&entry.record) {
            RingName::Pairs => &mut self.pairs,
            RingName::Marks => &mut self.marks,
            RingName::Visits => &mut self.visits,
        };
        ring.push(Rc::new(entry));
    }

    /// The last entry among the marks.
    #[must_use]
    pub fn last_marked(&self) -> Option<Entry> {
        self.marks.last().map(|entry| Entry::clone(entry))
    }

    /// How many entries were confirmed.
    #[must_use]
    pub fn len(&self) -> usize {
        self.pairs.len() + self.marks.len() + self.visits.len()
    }

    /// Whether nothing was confirmed yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The ledger of everything confirmed.
    #[must_use]
    pub const fn ledger(&self) -> &Ledger {
        &self.ledger
    }

    /// Checks what was found against what was confirmed. An entry that was being written when power failed may be there or
    /// not; if it is, it counts as confirmed from now on.
    ///
    /// # Errors
    /// What is wrong, in words.
    pub fn check(&mut self, found: &Found, in_flight: Option<&Record>) -> Result<(), String> {
        if !found.gaps.is_empty() {
            return Err(format!("gaps in a journal that has only lost power: {:?}", found.gaps));
        }
        for ring in &found.unreadable {
            let writing = in_flight.is_some_and(|record| ring_of(record) == *ring);
            // A torn record stays at the end until the next one of its ring is written.
            if !writing && !self.torn.contains(ring) {
                return Err(format!(
                    "unreadable end of {ring:?}, but nothing was being written there"
                ));
            }
        }
        self.torn.clone_from(&found.unreadable);
        self.doubt |= found.unreadable.contains(&RingName::Marks);
        if let Some(record) = in_flight
            && let Some(entry) = self.whole_in_flight(found, record)
        {
            self.confirm(entry);
        }
        self.check_rings(found)?;
        self.check_state(found)
    }

    /// The entry in flight, if it is there.
    fn whole_in_flight(&self, found: &Found, record: &Record) -> Option<Entry> {
        let last = found.of(ring_of(record)).last()?;
        let known = self
            .of(ring_of(record))
            .last()
            .is_some_and(|entry| entry.sequence >= last.sequence);
        (!known && last.record == *record).then(|| last.clone())
    }

    fn of(&self, ring: RingName) -> &[Rc<Entry>] {
        match ring {
            RingName::Pairs => &self.pairs,
            RingName::Marks => &self.marks,
            RingName::Visits => &self.visits,
        }
    }

    /// From the first entry found on, each ring holds what was confirmed, and nothing else but the journal's own notes.
    fn check_rings(&self, found: &Found) -> Result<(), String> {
        for ring in [RingName::Pairs, RingName::Marks, RingName::Visits] {
            let first = found.of(ring).next().map_or(u32::MAX, |entry| entry.sequence.0);
            let older = self.of(ring).partition_point(|entry| entry.sequence.0 < first);
            let mut wanted = self.of(ring)[older..].iter().map(Rc::as_ref).peekable();
            for entry in found.of(ring) {
                if wanted.peek() == Some(&entry) {
                    wanted.next();
                    continue;
                }
                let own = matches!(entry.record, Record::Checkpoint { .. } | Record::Lost { .. });
                if !own && !self.notes_again(entry) {
                    return Err(format!("{ring:?}: found {entry:?}, wanted {:?}", wanted.peek()));
                }
            }
            if let Some(entry) = wanted.next() {
                return Err(format!("{ring:?}: lost {entry:?}"));
            }
            if ring == RingName::Visits {
                let (kept, all) = (found.of(ring).count(), self.of(ring).len());
                if kept < all.min(FEWEST_VISITS) {
                    return Err(format!("only {kept} of {all} visits"));
                }
            }
        }
        Ok(())
    }

    /// Whether an entry repeats what stood when it was noted.
    fn notes_again(&self, entry: &Entry) -> bool {
        let key = standing_key(&entry.record);
        let before = self.marks.iter().rev().filter(|older| older.sequence < entry.sequence);
        let stood = before
            .into_iter()
            .find(|older| key.is_some() && standing_key(&older.record) == key);
        stood.is_some_and(|stood| stood.record == entry.record)
    }

    /// The state that replay gives is the one that everything confirmed gives.
    fn check_state(&self, found: &Found) -> Result<(), String> {
        let (ledger, refused) = found.ledger();
        if refused > 0 {
            return Err(format!("{refused} entries contradict the ledger"));
        }
        let (mut is, mut wanted) = (State::of(&ledger), State::of(&self.ledger));
        if self.doubt {
            (is.doubtful, wanted.doubtful) = (Vec::new(), Vec::new());
        }
        if is != wanted {
            return Err(format!("{is:?}, wanted {wanted:?}"));
        }
        let stands: BTreeMap<String, Record> = found
            .entries
            .iter()
            .filter_map(|entry| Some((standing_key(&entry.record)?, entry.record.clone())))
            .collect();
        if stands != self.standing {
            return Err(format!("stands {stands:?}, wanted {:?}", self.standing));
        }
        Ok(())
    }
}

/// A ledger as it can be seen from outside.
#[derive(Debug, PartialEq)]
struct State {
    pair: u16,
    open: bool,
    plan: Plan,
    steps: Vec<Step>,
    doubtful: Vec<bool>,
    skipped: Vec<u8>,
    labels: Vec<Label>,
}

impl State {
    fn of(ledger: &Ledger) -> Self {
        Self {
            pair: ledger.pair(),
            open: ledger.is_open(),
            plan: ledger.plan().clone(),
            steps: ledger
                .steps()
                .iter()
                .map(|&step| Step {
                    doubtful: false,
                    ..step
                })
                .collect(),
            doubtful: ledger.steps().iter().map(|step| step.doubtful).collect(),
            skipped: (0..u8::MAX).filter(|&line| ledger.is_skipped(line)).collect(),
            labels: YarnLetter::ALL.map(|yarn| ledger.label(yarn)).to_vec(),
        }
    }
}

/// Which record replaces which; `None` for those that replace nothing.
fn standing_key(record: &Record) -> Option<String> {
    use yarn_scale_core::journal::Named;
    Some(match record {
        Record::Calibrated(_) => "calibration".to_owned(),
        Record::ClockSet { .. } => "clock".to_owned(),
        Record::Control { .. } => "control".to_owned(),
        Record::Bowl { number, .. } => format!("bowl {}", number.0),
        Record::Setting(setting) => format!("setting {:?}", core::mem::discriminant(setting)),
        Record::Yarn { letter, .. } => format!("yarn {letter:?}"),
        Record::Named {
            what: Named::Yarn(letter),
            ..
        } => format!("name of yarn {letter:?}"),
        _ => return None,
    })
}

/// Visits that are always there, however often power fails: a sector's worth.
const FEWEST_VISITS: usize = 100;
