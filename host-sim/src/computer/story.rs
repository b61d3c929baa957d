//! What a backup tells: pairs with their sections and yarns, and visits. The same code as on the scale reads it.

use std::collections::BTreeMap;

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Entry, Named, PairEvent, Record, Replayed, RingName, Sequence};
use yarn_scale_core::report::tables::Visit;
use yarn_scale_core::report::{Calendar, Name, OnePair, Pair, Standing};

use super::backup::Backup;

/// All that a backup tells.
#[derive(Clone, Debug, PartialEq)]
pub struct Story {
    /// The pairs, oldest first.
    pub pairs: Vec<Pair>,
    /// The visits, oldest first.
    pub visits: Vec<Visit>,
    /// The device's time by the calendar.
    pub calendar: Calendar,
    /// What it adds up to: the running pair and the knitter's history.
    pub book: Book,
}

impl Story {
    /// Reads a backup.
    #[must_use]
    pub fn of(backup: &Backup) -> Self {
        let book = backup.blank_book();
        let mut reading = Reading::new(Standing::new(book.capacity()));
        let mut story = Self {
            pairs: Vec::new(),
            visits: Vec::new(),
            calendar: Calendar::default(),
            book,
        };
        let mut oldest_visit = None;
        backup.replay(|replayed| {
            reading.take(replayed);
            if let Replayed::Entry(entry) = replayed {
                if oldest_visit.is_none() && is_of_visits(entry) {
                    oldest_visit = Some(entry.sequence);
                    if entry.sequence > Sequence(1) {
                        story.calendar.forget_before(entry.at);
                    }
                }
                story.read(entry);
            }
            story.book.take(replayed);
        });
        story.book.settle();
        story.pairs = reading.pairs();
        story
    }

    /// Takes from a record what the book does not keep.
    fn read(&mut self, entry: &Entry) {
        if let Record::Visit { gross, bowl, .. } = &entry.record {
            self.visits.push(Visit {
                at: entry.at,
                gross: *gross,
                bowl: bowl.map_or(0, |bowl| bowl.0),
            });
        }
        self.calendar.learn(entry);
    }
}

const fn is_of_visits(entry: &Entry) -> bool {
    matches!(entry.record, Record::Visit { .. } | Record::Started(_))
}

/// What has been read so far, by number of the pair.
struct Reading {
    standing: Standing,
    /// The pairs whose beginning was read.
    whole: BTreeMap<u16, OnePair>,
    condensed: BTreeMap<u16, Pair>,
    names: BTreeMap<u16, Name>,
}

impl Reading {
    fn new(standing: Standing) -> Self {
        Self {
            standing,
            whole: BTreeMap::new(),
            condensed: BTreeMap::new(),
            names: BTreeMap::new(),
        }
    }

    fn take(&mut self, replayed: Replayed<'_>) {
        let entry = match replayed {
            Replayed::Entry(entry) => entry,
            Replayed::Gap { among, .. } | Replayed::Unreadable { among } => {
                if among == RingName::Marks {
                    self.give(replayed, None);
                }
                return;
            }
        };
        match &entry.record {
            Record::PairBegun { pair, .. } if !self.whole.contains_key(pair) => {
                self.whole.insert(*pair, OnePair::new(*pair, self.standing.clone()));
            }
            Record::Condensed { pair, sections } => {
                self.condensed.insert(*pair, Pair::condensed(*pair, sections));
            }
            Record::Named {
                what: Named::Pair(pair),
                name,
            } => {
                self.names.insert(*pair, name.clone());
            }
            _ => {}
        }
        // What takes a yarn from pair to pair belongs to both, with what corrects it and takes it back.
        let concerns_two = |event: &PairEvent| {
            matches!(
                event,
                PairEvent::Carried { .. } | PairEvent::Undone { .. } | PairEvent::Amended { .. }
            )
        };
        let pair = self.standing.pair_of(&entry.record);
        let event = entry.record.pair_event(pair.unwrap_or_default());
        let of_one = event.is_none_or(|(_, event)| !concerns_two(&event));
        self.give(replayed, pair.filter(|_| of_one));
        self.standing.learn(entry);
    }

    /// Gives what was read to the pair that it belongs to, or to all: it changes those that are open.
    fn give(&mut self, replayed: Replayed<'_>, pair: Option<u16>) {
        match pair {
            Some(pair) => {
                if let Some(reading) = self.whole.get_mut(&pair) {
                    reading.take(replayed);
                }
            }
            None => {
                for reading in self.whole.values_mut() {
                    reading.take(replayed);
                }
            }
        }
    }

    fn pairs(mut self) -> Vec<Pair> {
        for (number, reading) in self.whole {
            if !reading.is_better_in_short() || !self.condensed.contains_key(&number) {
                let pair = reading.pair();
                if !pair.weights.is_empty() {
                    self.condensed.insert(number, pair);
                }
            }
        }
        let mut pairs: Vec<Pair> = self.condensed.into_values().collect();
        for pair in &mut pairs {
            pair.name = self.names.remove(&pair.number);
        }
        pairs
    }
}
