//! Which pairs the journal holds, and where: found out once for a volume.

use heapless::Vec;

use super::source::Spot;
use crate::journal::{Entry, Named, PairEvent, Record};
use crate::report::Standing;

/// Most pairs that are listed: the newest. A journal of 1 MiB holds about as many.
pub(super) const LISTED: usize = 1_536;

/// Pairs that are told with their yarns, if their marks are there: those that are open, and the newest of the others.
pub(super) const WHOLE: usize = 24;

/// A pair and where it stands among the closed ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Listed {
    pub(super) number: u16,
    pub(super) condensed: Spot,
    pub(super) name: Spot,
}

/// A pair whose marks are all there.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Whole {
    pub(super) number: u16,
    /// The sectors of the marks in which its records stand.
    pub(super) first: u16,
    pub(super) last: u16,
    pub(super) is_open: bool,
    /// The pair that one of its yarns went on in last: what corrects that or takes it back stands among that one's records.
    pub(super) carried: Option<u16>,
    /// What held before the first of them.
    pub(super) standing: Standing,
}

/// The pairs of a journal.
#[derive(Clone, Debug, Default)]
pub(super) struct Roll {
    listed: Vec<Listed, LISTED>,
    whole: Vec<Whole, WHOLE>,
    left_out: u16,
}

impl Roll {
    /// Forgets all of them.
    pub(super) fn clear(&mut self) {
        self.listed.clear();
        self.whole.clear();
        self.left_out = 0;
    }

    /// The pairs by number.
    pub(super) fn listed(&self) -> &[Listed] {
        &self.listed
    }

    /// A pair whose marks are there.
    pub(super) fn whole(&self, number: u16) -> Option<&Whole> {
        self.whole.iter().find(|whole| whole.number == number)
    }

    /// The pairs that the page tells: as many as are told with their yarns.
    pub(super) fn newest(&self) -> &[Listed] {
        let older = self.listed.len().saturating_sub(WHOLE);
        self.listed.get(older..).unwrap_or_default()
    }

    /// Pairs that found no place in the list.
    pub(super) const fn left_out(&self) -> u16 {
        self.left_out
    }

    /// Takes an entry of the ring of closed pairs.
    pub(super) fn closed(&mut self, entry: &Entry, spot: Spot) {
        if let Record::Condensed { pair, .. } = entry.record {
            if let Some(listed) = self.list(pair) {
                listed.condensed = spot;
            }
        } else if let Record::Named {
            what: Named::Pair(pair),
            ..
        } = entry.record
            && let Some(listed) = self.list(pair)
        {
            listed.name = spot;
        }
    }

    /// Takes an entry of the marks, from the sector with so many older ones. `standing` is what holds before it.
    pub(super) fn mark(&mut self, entry: &Entry, sector: u16, standing: &Standing) {
        if let Record::PairBegun { pair, .. } = entry.record
            && self.whole(pair).is_none()
        {
            self.list(pair);
            if self.whole.is_full() {
                let closed = self.whole.iter().find(|whole| !whole.is_open);
                let oldest = closed.or(self.whole.first()).map(|whole| whole.number);
                self.whole.retain(|whole| Some(whole.number) != oldest);
            }
            // There is room now.
            let _ = self.whole.push(Whole {
                number: pair,
                first: sector,
                last: sector,
                is_open: true,
                carried: None,
                standing: standing.clone(),
            });
        }
        if let Record::Lost { .. } = entry.record {
            self.gap(sector);
        }
        let Some(number) = standing.pair_of(&entry.record) else {
            return;
        };
        if let Some((_, PairEvent::Carried { from, .. })) = entry.record.pair_event(number)
            && let Some(whole) = self.whole.iter_mut().find(|whole| whole.number == from)
        {
            whole.carried = Some(number);
        }
        for whole in self.whole.iter_mut().filter(|whole| whole.carried == Some(number)) {
            whole.last = sector;
        }
        if let Some(whole) = self.whole.iter_mut().find(|whole| whole.number == number) {
            whole.last = sector;
            let event = PairEvent::Reopened;
            let is_open_again = entry.record == Record::OfPair { pair: number, event };
            whole.is_open &= !matches!(entry.record, Record::PairClosed { .. });
            whole.is_open |= is_open_again;
        }
    }

    /// Something is missing in this sector of the marks: it may have belonged to any pair that was open.
    pub(super) fn gap(&mut self, sector: u16) {
        for whole in self.whole.iter_mut().filter(|whole| whole.is_open) {
            whole.last = sector;
        }
    }

    /// The place of a pair, made if need be; of those that find none the oldest are left out.
    fn list(&mut self, number: u16) -> Option<&mut Listed> {
        let place = self.listed.partition_point(|listed| listed.number < number);
        let is_listed = self.listed.get(place).is_some_and(|listed| listed.number == number);
        if !is_listed {
            if self.listed.is_full() {
                self.left_out = self.left_out.saturating_add(1);
                let oldest = self.listed.first().map(|listed| listed.number)?;
                if number < oldest {
                    return None;
                }
                self.listed.retain(|listed| listed.number != oldest);
            }
            // There is room now. Nearly always it is the newest; otherwise the others move up one by one.
            let _ = self.listed.push(Listed {
                number,
                condensed: Spot::NONE,
                name: Spot::NONE,
            });
            let mut rest = self.listed.as_mut_slice();
            while let [before @ .., older, last] = rest {
                if older.number < last.number {
                    break;
                }
                core::mem::swap(older, last);
                let length = before.len().saturating_add(1);
                rest = rest.get_mut(..length)?;
            }
        }
        let place = self.listed.partition_point(|listed| listed.number < number);
        self.listed.get_mut(place)
    }
}
