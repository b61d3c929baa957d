//! Which pairs are open, and how much a checkpoint must copy so that none of their records is lost.

use heapless::Vec;

use super::in_short::InShort;
use super::pair_event::{of_a_pair, of_the_device};
use super::sector::SECTOR;
use super::{Entry, PairEvent, Record, Sequence};
use crate::sock::YARNS;

/// Most pairs that can be open at once.
pub const OPEN_PAIRS: usize = 8;

/// Numbers of the records by which yarns of open pairs went on in others: one for each yarn of each pair, though one can go several ways.
pub(super) type CarriedOn = Vec<Sequence, { OPEN_PAIRS * YARNS }>;

/// Most bytes that a copied record takes in a sector: proven by test.
const COPY: u32 = 80;

/// The pairs whose records are needed.
#[derive(Clone, Debug, Default)]
pub(super) struct OpenPairs {
    /// Each with the number of its records.
    open: Vec<(u16, u16), OPEN_PAIRS>,
    /// Number of the pair begun last.
    begun: u16,
    in_short: InShort,
    /// The pair closed last, as long as all its records are still there: it can be opened again.
    closed: Option<(u16, u16)>,
}

impl OpenPairs {
    /// Learns of a record in the journal.
    pub(super) fn learn(&mut self, record: &Record) {
        match record {
            Record::PairBegun { pair, .. } => self.begin(*pair),
            Record::PairClosed { pair } => self.close(*pair),
            Record::Condensed { pair, .. } => self.in_short.noted(*pair),
            Record::Checkpoint { pair, .. } => {
                self.begun = self.begun.max(*pair);
                self.closed = None;
            }
            Record::OfPair {
                pair,
                event: PairEvent::Reopened,
            } => self.reopen(*pair),
            of_a_pair!() => {
                if let Some((pair, event)) = record.pair_event(self.begun) {
                    self.count(pair, 1);
                    if let PairEvent::Carried { from, .. } = event {
                        // Its chain ends with that, and with what may correct it and take it back.
                        self.count(from, 3);
                    }
                }
            }
            of_the_device!() | Record::Yarn { .. } | Record::Lost { .. } => {}
        }
    }

    fn count(&mut self, pair: u16, more: u16) {
        if let Some((_, records)) = self.open.iter_mut().find(|(open, _)| *open == pair) {
            *records = records.saturating_add(more);
        }
    }

    /// A pair that is known already was copied by a checkpoint.
    fn begin(&mut self, pair: u16) {
        self.begun = self.begun.max(pair);
        if self.is_open(pair) {
            return;
        }
        self.closed = None;
        // Refused before it is written if there are too many.
        let _ = self.open.push((pair, 1));
    }

    fn close(&mut self, pair: u16) {
        self.closed = self.open.iter().find(|(open, _)| *open == pair).copied();
        self.open.retain(|(open, _)| *open != pair);
        self.in_short.closed(pair);
    }

    fn reopen(&mut self, pair: u16) {
        if let Some((pair, records)) = self.closed.take_if(|(closed, _)| *closed == pair) {
            // There is the place that it had.
            let _ = self.open.push((pair, records.saturating_add(1)));
            self.in_short.reopened(pair);
        }
    }

    /// Whether a closed pair can be opened again.
    pub(super) fn can_reopen(&self, pair: u16) -> bool {
        self.closed.is_some_and(|(closed, _)| closed == pair)
    }

    /// Whether the pair is open.
    pub(super) fn is_open(&self, pair: u16) -> bool {
        self.open.iter().any(|(open, _)| *open == pair)
    }

    /// Whether one more pair can be begun.
    pub(super) fn has_room(&self) -> bool {
        !self.open.is_full()
    }

    /// A pair is closed and not in the journal in short: it must be, before its records may go.
    pub(super) const fn is_uncondensed(&self) -> bool {
        self.in_short.due().is_some()
    }

    /// Number of the pair begun last; 0 before the first.
    pub(super) const fn begun(&self) -> u16 {
        self.begun
    }

    /// Sectors that a checkpoint's copies of all open pairs take at most; none if no pair is open.
    pub(super) fn sectors(&self) -> u16 {
        sectors(self.open.iter().map(Self::bytes).sum())
    }

    /// The same once the largest of them is closed.
    pub(super) fn sectors_beside_largest(&self) -> u16 {
        let all: u32 = self.open.iter().map(Self::bytes).sum();
        sectors(all.saturating_sub(self.open.iter().map(Self::bytes).max().unwrap_or(0)))
    }

    fn bytes(&(_, records): &(u16, u16)) -> u32 {
        u32::from(records).saturating_mul(COPY).saturating_add(PLAN)
    }

    /// What a checkpoint notes of an entry that is older: of an open pair all, of others nothing. `begun_last` is the number of the pair
    /// begun last before that entry.
    pub(super) fn copy_of(&self, entry: Entry, begun_last: u16, carried: &mut CarriedOn) -> Option<Record> {
        let number = entry.number();
        if let Record::PairBegun { pair, .. } = entry.record {
            return self.is_open(pair).then_some(entry.record);
        }
        if let Record::Lost { .. } = entry.record {
            // Something of an open pair may be missing there.
            return self.any().then_some(entry.record);
        }
        let (pair, event) = entry.record.pair_event(begun_last)?;
        // The other pair's chain ends with it.
        let is_carried = if let PairEvent::Carried { from, .. } = event {
            self.is_open(from) && carried.push(number).is_ok()
        } else {
            matches!(event, PairEvent::Undone { of } | PairEvent::Amended { of, .. } if carried.contains(&of))
        };
        (is_carried || self.is_open(pair)).then_some(Record::Kept { pair, number, event })
    }

    /// Whether any pair is open.
    pub(super) fn any(&self) -> bool {
        !self.open.is_empty()
    }
}

fn sectors(bytes: u32) -> u16 {
    u16::try_from(bytes.div_ceil(SECTOR)).unwrap_or(u16::MAX)
}

/// Most bytes that the record of a pair's beginning takes in a sector: proven by test.
const PLAN: u32 = 192;
