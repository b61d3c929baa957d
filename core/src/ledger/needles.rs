//! The pairs on the needles: one in hand, whose ledger is a [`Ledger`], the others put by.
//!
//! A record that belongs to a pair takes that pair in hand; [`Needles::settle`] goes back to the one that was chosen. Steps of the pairs put
//! by lie in one row, pair behind pair, so that eight pairs take the room of [`ALL_STEPS`] weights, not of eight full ledgers. Taking
//! another pair in hand moves that row twice: some 12 KB.

use heapless::Vec;

use super::pair::Pair;
use super::put_by::PutBy;
use super::{ApplyFault, Ledger, MAX_STEPS, Step};
use crate::journal::{Entry, InShort, OPEN_PAIRS, PairEvent, Record, Sequence, Setting, of_a_pair, of_the_device};
use crate::weighing::Conditions;

/// Most steps that all pairs can have together: 32 a pair, half as many again as one in three yarns takes.
pub(super) const ALL_STEPS: usize = 256;

/// Pairs that are known at once: those that can be open, and the one that was closed last.
pub(crate) const KNOWN_PAIRS: usize = OPEN_PAIRS + 1;

/// All pairs on the needles, and the one that was closed last.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Needles {
    /// The pair in hand.
    in_hand: Ledger,
    put_by: Vec<PutBy, OPEN_PAIRS>,
    /// Their steps, in their order.
    steps: Vec<Step, ALL_STEPS>,
    /// The pair to be gone on with; without one the pair begun last.
    chosen: Option<u16>,
    /// A choice was noted: it stands, also beside pairs begun later.
    was_noted: bool,
    in_short: InShort,
    /// The pair that was closed last, as long as it can be opened again.
    closed: Option<u16>,
}

impl Needles {
    /// The ledger of the pair in hand.
    #[must_use]
    pub const fn in_hand(&self) -> &Ledger {
        &self.in_hand
    }

    /// All pairs that are known, the one in hand first; that need not be the only one which is closed.
    pub fn pairs(&self) -> impl Iterator<Item = Pair<'_>> {
        let mut rest = self.steps.as_slice();
        let put_by = self.put_by.iter().map(move |put_by| {
            let (steps, behind) = rest.split_at_checked(put_by.steps).unwrap_or_default();
            rest = behind;
            put_by.as_pair(steps)
        });
        let in_hand = Some(self.in_hand.as_pair()).filter(|pair| pair.number() > 0);
        in_hand.into_iter().chain(put_by)
    }

    /// How many pairs are being knitted.
    #[must_use]
    pub fn open(&self) -> usize {
        let open = |count: usize, pair: Pair<'_>| count.saturating_add(usize::from(pair.is_open()));
        self.pairs().fold(0, open)
    }

    /// The pair that was closed last, as long as it can be opened again.
    #[must_use]
    pub const fn closed(&self) -> Option<u16> {
        self.closed
    }

    /// The pair that is closed and has yet to be noted in short.
    #[must_use]
    pub const fn due(&self) -> Option<u16> {
        self.in_short.due()
    }

    /// Whether one more weight can be noted in the pair in hand.
    #[must_use]
    pub fn has_room(&self) -> bool {
        self.have_room(&[self.in_hand.pair()])
    }

    /// Whether one more weight can be noted in each of these pairs.
    #[must_use]
    pub fn have_room(&self, pairs: &[u16]) -> bool {
        let mut all = pairs.len();
        for pair in self.pairs() {
            all = all.saturating_add(pair.steps.len());
            if pairs.contains(&pair.number()) && pair.steps.len() >= MAX_STEPS {
                return false;
            }
        }
        all <= ALL_STEPS
    }

    /// The step that a record noted, in whichever pair it belongs to.
    #[must_use]
    pub fn step(&self, of: Sequence) -> Option<(u16, &Step)> {
        let mut steps = self.pairs().filter_map(|pair| Some((pair.number(), pair.step(of)?)));
        steps.find(|(_, step)| !step.ends())
    }

    /// Says on what scale all is weighed.
    pub fn weighed_on(&mut self, conditions: Conditions) {
        self.in_hand.weighed_on(conditions);
    }

    /// Records before the next one are missing or damaged: what every pair knows last is in doubt.
    pub fn gap(&mut self) {
        for pair in self.numbers() {
            self.take_in_hand(pair);
            self.in_hand.gap();
        }
    }

    /// A choice was noted before: a pair begun now is gone on with only if that is noted, too.
    #[must_use]
    pub const fn was_choice_noted(&self) -> bool {
        self.was_noted
    }

    /// Takes the pair in hand that is to be gone on with: the one chosen or closed last, else the one begun last; where that one is not
    /// known any more, the one weighed last.
    pub fn settle(&mut self) {
        let newest = |pair: &Pair<'_>| (pair.is_open(), pair.weighed_at(), pair.number());
        let begun = self.pairs().map(Pair::number).max();
        let chosen = self.chosen.or(begun).filter(|&chosen| self.is_known(chosen));
        let next = chosen.or_else(|| self.pairs().max_by_key(newest).map(Pair::number));
        if let Some(pair) = next {
            self.take_in_hand(pair);
        }
    }

    /// Whether the pair is open, or the one closed last.
    #[must_use]
    pub fn is_known(&self, pair: u16) -> bool {
        pair > 0 && self.pairs().any(|known| known.number() == pair)
    }

    /// The numbers of all that are known.
    pub fn numbers(&self) -> Vec<u16, KNOWN_PAIRS> {
        let mut numbers = Vec::new();
        for pair in self.pairs() {
            // There are as many places as pairs.
            let _ = numbers.push(pair.number());
        }
        numbers
    }

    /// Changes the state by one record of the journal; the pair that it belongs to is in hand then.
    ///
    /// # Errors
    /// An [`ApplyFault`] where the record contradicts the state; the state is then as it was.
    pub fn apply(&mut self, entry: &Entry) -> Result<(), ApplyFault> {
        match &entry.record {
            Record::PairBegun { pair, lines } => {
                // A checkpoint notes the beginning of an open pair once more.
                if self.is_known(*pair) {
                    return Ok(());
                }
                self.forget_closed();
                self.put_by()?;
                self.in_hand.begin(*pair, lines);
                self.chosen.take_if(|_| !self.was_noted);
                return Ok(());
            }
            Record::PairClosed { pair } => {
                if !self.take_in_hand(*pair) {
                    return Ok(());
                }
                self.forget_closed();
                self.closed = Some(*pair);
                self.chosen = Some(*pair);
                self.in_short.closed(*pair);
            }
            Record::Condensed { pair, .. } => self.in_short.noted(*pair),
            Record::Setting(Setting::PairInHand(pair)) => {
                self.chosen = Some(*pair);
                self.was_noted = true;
            }
            Record::Checkpoint { pair, .. } => {
                self.in_hand.reached(*pair);
                return Ok(());
            }
            Record::Lost { .. } => {
                self.gap();
                return Ok(());
            }
            of_a_pair!() => {
                if let Some((pair, event)) = entry.record.pair_event(self.in_hand.begun()) {
                    return self.apply_event(entry, pair, &event);
                }
            }
            // The ledger's own, and what is no pair's.
            of_the_device!() | Record::Yarn { .. } => {}
        }
        self.in_hand.apply(entry)
    }

    fn apply_event(&mut self, entry: &Entry, pair: u16, event: &PairEvent) -> Result<(), ApplyFault> {
        let other = self
            .pairs()
            .find(|other| other.is_carried(pair, event))
            .map(Pair::number);
        if event.adds_a_step() && !self.have_room(&[pair, other.unwrap_or(pair)]) {
            return Err(ApplyFault::Full);
        }
        // First the pair that the yarn came from: then that of the record stays in hand.
        if let Some(other) = other
            && self.take_in_hand(other)
        {
            self.in_hand.apply(entry)?;
        }
        if !self.take_in_hand(pair) {
            // Of a pair that is closed for good.
            return Ok(());
        }
        if *event == PairEvent::Reopened && self.closed.take_if(|closed| *closed == pair).is_some() {
            self.in_short.reopened(pair);
        }
        self.in_hand.apply(entry)
    }

    /// Another pair is begun or closed: the one closed last cannot be opened again, and goes.
    fn forget_closed(&mut self) {
        if let Some(closed) = self.closed.take() {
            self.pick_up(closed);
        }
    }

    /// Takes a pair and its steps out of those put by.
    fn pick_up(&mut self, pair: u16) -> Option<(PutBy, Vec<Step, MAX_STEPS>)> {
        let place = self.put_by.iter().position(|put_by| put_by.pair == pair)?;
        let before = self.put_by.iter().take(place);
        let from = before.fold(0_usize, |from, put_by| from.saturating_add(put_by.steps));
        let put_by = self.put_by.get(place).cloned()?;
        let mut steps = Vec::new();
        for step in self.steps.iter().skip(from).take(put_by.steps) {
            // No pair has more steps than a ledger holds.
            let _ = steps.push(*step);
        }
        self.put_by.retain(|put_by| put_by.pair != pair);
        let (mut at, its) = (0_usize, from..from.saturating_add(put_by.steps));
        self.steps.retain(|_| {
            at = at.saturating_add(1);
            !its.contains(&at.saturating_sub(1))
        });
        Some((put_by, steps))
    }

    /// Takes a pair in hand, and puts by the one that was. Says whether that pair is known.
    pub fn take_in_hand(&mut self, pair: u16) -> bool {
        if self.in_hand.pair() == pair {
            return pair > 0;
        }
        let Some((next, steps)) = self.pick_up(pair) else {
            return false;
        };
        // There is the place that the other one had.
        let _ = self.put_by();
        self.in_hand.go_on_with(next, steps);
        true
    }

    /// Puts the pair in hand by, if it is still needed.
    fn put_by(&mut self) -> Result<(), ApplyFault> {
        let needed = self.in_hand.is_open() || self.closed == Some(self.in_hand.pair());
        if self.in_hand.pair() == 0 || !needed {
            return Ok(());
        }
        if self.put_by.is_full() || self.steps.extend_from_slice(&self.in_hand.steps).is_err() {
            return Err(ApplyFault::Full);
        }
        // It is not full.
        let _ = self.put_by.push(self.in_hand.own());
        Ok(())
    }
}
