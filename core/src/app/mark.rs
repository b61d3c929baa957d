//! What a press of MARK does: takes the load that was steady when the finger came, or waits for one.

use super::application::App;
use crate::journal::Record;
use crate::screen::RefusedWord;
use crate::ui::{EMPTY_BELOW, Key};
use crate::units::Duration;
use crate::weighing::{Condition, SteadyLoad};

/// A mark waits this long for a steady reading, then fails with a notice.
const PATIENCE: Duration = Duration::from_secs(15);

impl App {
    /// A mark is being taken, or an answer is awaited: nothing else may change the journal now.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.page.asks() || self.marking.waits() || self.marking.in_flight.is_some()
    }

    /// MARK was pressed on a page where it means a boundary.
    pub(super) fn mark(&mut self) {
        // A hand that still lifts the pan will be gone in a moment.
        let may_wait = [Condition::Weighing, Condition::Starting, Condition::Underload];
        if !may_wait.contains(&self.scale.condition()) {
            self.refuse(RefusedWord::Faulty);
        } else if !self.book.ledger().is_open() {
            self.refuse(RefusedWord::NoPlan);
        } else if let Some(load) = self.meant_load() {
            self.take_mark(load);
        } else {
            self.marking.waiting_until = Some(self.now + PATIENCE);
            self.marking.glimpsed = None;
        }
    }

    /// The load that stood when the finger came; without one the mark waits. On an empty pan it waits too: something may just be put on it.
    fn meant_load(&self) -> Option<SteadyLoad> {
        let latched = self.marking.latched(self.now).filter(|&(key, _)| key == Key::Mark);
        latched.map(|(_, load)| load).filter(|load| self.holds_something(load))
    }

    fn holds_something(&self, load: &SteadyLoad) -> bool {
        self.scale.gross(load).value.abs() >= EMPTY_BELOW
    }

    /// A waiting mark takes the load that has stood, or the one that was steady for a moment before it was lifted off, or is given up
    /// when its time is over.
    #[inline(never)]
    pub(super) fn mark_in_time(&mut self) {
        let Some(until) = self.marking.waiting_until else {
            return;
        };
        match (self.scale.stood(), self.scale.steady()) {
            (Some(load), _) => {
                self.marking.waiting_until = None;
                let lifted = self.marking.glimpsed.filter(|_| !self.holds_something(&load));
                self.take_mark(lifted.unwrap_or(load));
            }
            (None, Some(load)) if self.holds_something(&load) => self.marking.glimpsed = Some(load),
            _ if self.now >= until => {
                self.marking.waiting_until = None;
                let no_number = self.scale.condition() != Condition::Weighing;
                self.refuse(if no_number {
                    RefusedWord::Faulty
                } else {
                    RefusedWord::NotSteady
                });
            }
            _ => {}
        }
    }

    /// Notes what a load means; it is remembered until the journal has answered.
    pub(super) fn note_load(&mut self, load: SteadyLoad, record: Record) {
        if !self.book.needles().has_room() {
            return self.refuse(RefusedWord::PairFull);
        }
        self.marking.in_flight = Some(load);
        self.note(record);
    }
}
