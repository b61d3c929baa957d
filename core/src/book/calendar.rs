//! The calendar, as far as a computer has told it: the device's clock tied to it, until the power goes off.

use heapless::Deque;

use crate::units::Stamp;

/// Times that the clock was set, and starts of the device, that are remembered.
const KEPT_TIES: usize = 4;
const KEPT_STARTS: usize = 16;

/// Seconds of a day.
const DAY: u64 = 86_400;

/// The device's clock and the calendar.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Calendar {
    /// The device's time when it was set, and seconds since 1970-01-01 UTC then.
    ties: Deque<(Stamp, u64), KEPT_TIES>,
    starts: Deque<Stamp, KEPT_STARTS>,
}

impl Calendar {
    /// The clock was set.
    pub(super) fn set(&mut self, at: Stamp, unix: u64) {
        if self.ties.is_full() {
            self.ties.pop_front();
        }
        // There is room now.
        let _ = self.ties.push_back((at, unix));
    }

    /// The device started: how long the power was off is unknown.
    pub(super) fn started(&mut self, at: Stamp) {
        if self.starts.is_full() {
            self.starts.pop_front();
        }
        // There is room now.
        let _ = self.starts.push_back(at);
    }

    /// Days from one time to another, begun ones counted; `None` where the calendar does not know both.
    pub(super) fn days(&self, from: Stamp, to: Stamp) -> Option<u16> {
        let took = self.unix(to)?.checked_sub(self.unix(from)?)?;
        u16::try_from((took / DAY).saturating_add(1)).ok()
    }

    /// Seconds since 1970: known while the device has run since its clock was set.
    fn unix(&self, at: Stamp) -> Option<u64> {
        let &(set_at, unix) = self.ties.iter().rev().find(|(set_at, _)| *set_at <= at)?;
        let oldest = self.starts.front().filter(|_| self.starts.is_full());
        let is_known = oldest.is_none_or(|&oldest| oldest <= set_at);
        let ran = !self.starts.iter().any(|&start| start > set_at && start <= at);
        let since = u64::from(at.0.saturating_sub(set_at.0));
        (is_known && ran).then(|| unix.saturating_add(since))
    }
}
