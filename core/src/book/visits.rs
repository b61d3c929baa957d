//! Visits: every steady load the pan has seen, so that a forgotten press can be made good.

use heapless::Deque;

use crate::measured::Measured;
use crate::sock::BowlNumber;
use crate::units::Stamp;

/// How many of the latest visits can still become a boundary.
pub(crate) const KEPT_VISITS: usize = 12;

/// A steady load that the pan has seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Visit {
    /// When.
    pub at: Stamp,
    /// What it weighed, gross.
    pub gross: Measured,
    /// The bowl that was set.
    pub bowl: Option<BowlNumber>,
}

/// The latest visits.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Visits {
    latest: Deque<Visit, KEPT_VISITS>,
}

impl Visits {
    /// Adds a visit; the oldest makes room.
    pub(super) fn push(&mut self, visit: Visit) {
        if self.latest.is_full() {
            self.latest.pop_front();
        }
        // There is room now.
        let _ = self.latest.push_back(visit);
    }

    /// Keeps only those that are worth it.
    pub(super) fn retain(&mut self, worth: impl Fn(&Visit) -> bool) {
        for _ in 0..self.latest.len() {
            // As many as there are go round once.
            if let Some(visit) = self.latest.pop_front().filter(&worth) {
                let _ = self.latest.push_back(visit);
            }
        }
    }

    /// The latest visits, oldest first.
    pub fn oldest_first(&self) -> impl Iterator<Item = &Visit> {
        self.latest.iter()
    }

    /// The latest visits, newest first.
    pub fn newest_first(&self) -> impl Iterator<Item = &Visit> {
        self.latest.iter().rev()
    }
}
