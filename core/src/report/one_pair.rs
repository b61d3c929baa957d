//! One pair's records, out of a journal in which several pairs stand among each other.

use super::pair::{Name, Pair};
use crate::journal::{Entry, Named, PairEvent, Record, Replayed, RingName, Sequence, Setting};
use crate::ledger::Ledger;
use crate::measured::Measured;
use crate::sock::{Label, YARNS, YarnLetter};
use crate::units::{Milligrams, Stamp};
use crate::weighing::Conditions;

/// What holds for every pair at some place of the journal.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    labels: [Label; YARNS],
    conditions: Option<Conditions>,
    capacity: Milligrams,
    begun: u16,
    /// The latest weighing of the control skein.
    control: Option<(Stamp, Measured)>,
}

impl Standing {
    /// At the journal's beginning, on a scale that carries so much.
    #[must_use]
    pub fn new(capacity: Milligrams) -> Self {
        Self {
            labels: [Label::default(); YARNS],
            conditions: None,
            capacity,
            begun: 0,
            control: None,
        }
    }

    /// Learns from the next record.
    pub fn learn(&mut self, entry: &Entry) {
        if let Record::Yarn { letter, label } = &entry.record
            && let Some(known) = self.labels.get_mut(letter.index())
        {
            *known = *label;
        } else if let Record::Calibrated(calibration) = &entry.record {
            self.conditions = Some(Conditions::of(calibration, self.capacity));
        } else if let Record::Setting(Setting::CellCapacity(grams)) = entry.record {
            self.capacity = Milligrams::from_grams(grams.into());
        } else if let Record::PairBegun { pair, .. } | Record::Checkpoint { pair, .. } = entry.record {
            self.begun = self.begun.max(pair);
        } else if let Record::Control { weight } = entry.record {
            self.control = Some((entry.at, weight));
        }
    }

    /// The pair that a record belongs to, if it belongs to one.
    #[must_use]
    pub fn pair_of(&self, record: &Record) -> Option<u16> {
        if let Record::PairBegun { pair, .. } | Record::PairClosed { pair } = record {
            return Some(*pair);
        }
        if let Record::Named {
            what: Named::Yarn(_), ..
        } = record
        {
            return Some(self.begun);
        }
        record.pair_event(self.begun).map(|(pair, _)| pair)
    }
}

/// A pair as it is read, record by record.
#[derive(Clone, Debug, PartialEq)]
pub struct OnePair {
    number: u16,
    ledger: Ledger,
    standing: Standing,
    names: [Option<Name>; YARNS],
    has_gap: bool,
    reopened: bool,
}

impl OnePair {
    /// The pair of this number, before its first record.
    #[must_use]
    pub fn new(number: u16, standing: Standing) -> Self {
        let mut ledger = Ledger::default();
        let labels = YarnLetter::ALL.into_iter().zip(standing.labels);
        let labels = labels.map(|(letter, label)| (Stamp(0), Record::Yarn { letter, label }));
        let control = standing.control.map(|(at, weight)| (at, Record::Control { weight }));
        for (at, record) in labels.chain(control) {
            // These contradict nothing.
            let _ = ledger.apply(&Entry {
                sequence: Sequence(0),
                at,
                record,
            });
        }
        if let Some(conditions) = standing.conditions {
            ledger.weighed_on(conditions);
        }
        Self {
            number,
            ledger,
            standing,
            names: [const { None }; YARNS],
            has_gap: false,
            reopened: false,
        }
    }

    /// Takes what was read next of the marks; what concerns other pairs changes nothing.
    pub fn take(&mut self, replayed: Replayed<'_>) {
        match replayed {
            Replayed::Entry(entry) => self.read(entry),
            Replayed::Gap { among, .. } | Replayed::Unreadable { among } => {
                if among == RingName::Marks && self.ledger.is_open() {
                    self.has_gap = true;
                    self.ledger.gap();
                }
            }
        }
    }

    fn read(&mut self, entry: &Entry) {
        let pair = self.standing.pair_of(&entry.record);
        self.standing.learn(entry);
        let carried = entry.record.pair_event(self.standing.begun);
        let is_own = pair == Some(self.number)
            || carried.is_some_and(|(to, event)| self.ledger.as_pair().is_carried(to, &event));
        // What belongs to no pair concerns this one from its beginning to its end.
        if !is_own && !self.ledger.is_open() {
            return;
        }
        if let Record::Calibrated(_) = entry.record
            && let Some(conditions) = self.standing.conditions
        {
            self.ledger.weighed_on(conditions);
        }
        if let Record::Named {
            what: Named::Yarn(letter),
            name,
        } = &entry.record
            && pair == Some(self.number)
        {
            self.name(*letter, name);
        }
        if let Record::OfPair {
            event: PairEvent::YarnNamed { yarn, name },
            ..
        }
        | Record::Kept {
            event: PairEvent::YarnNamed { yarn, name },
            ..
        } = &entry.record
            && pair == Some(self.number)
        {
            self.name(*yarn, name);
        }
        if let Record::OfPair {
            event: PairEvent::Reopened,
            ..
        }
        | Record::Kept {
            event: PairEvent::Reopened,
            ..
        } = entry.record
            && pair == Some(self.number)
        {
            self.reopened = true;
        }
        // To the ledger a checkpoint means another pair, if this one is closed.
        let is_checkpoint = matches!(entry.record, Record::Checkpoint { .. });
        if !is_checkpoint && (is_own || pair.is_none()) {
            // A record that contradicts the ledger stays out of the sums here as on the device.
            let _ = self.ledger.apply(entry);
        }
    }

    fn name(&mut self, letter: YarnLetter, name: &Name) {
        if let Some(known) = self.names.get_mut(letter.index()) {
            *known = Some(name.clone());
        }
    }

    /// Whether something is missing among its records, and what was noted of it in short tells more: that was noted while they were all
    /// there. Of a pair that was opened again it may be from before.
    #[must_use]
    pub const fn is_better_in_short(&self) -> bool {
        self.has_gap && !self.reopened
    }

    /// The ledger.
    #[must_use]
    pub const fn ledger(&self) -> &Ledger {
        &self.ledger
    }

    /// The pair as far as it was read, with the names of its yarns.
    #[must_use]
    pub fn pair(&self) -> Pair {
        let mut pair = Pair::of(&self.ledger);
        for yarn in &mut pair.yarns {
            yarn.name = self.names.get(yarn.letter.index()).cloned().flatten();
        }
        pair
    }
}
