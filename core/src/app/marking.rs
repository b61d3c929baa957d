//! The press that is under way, and the mark that waits.

use crate::ui::{HOLD, Key, Press};
use crate::units::{Duration, Instant};
use crate::weighing::SteadyLoad;

/// A steady load older than this is not the one that the finger meant.
const LATCH_AGE: Duration = Duration(600);

/// The press that is under way, and the load it means.
#[derive(Clone, Debug, Default)]
pub(super) struct Marking {
    latched: Option<(Key, SteadyLoad)>,
    pub(super) waiting_until: Option<Instant>,
    /// What was steady for a moment while a mark waited: meant after all if it is taken off before it has stood.
    pub(super) glimpsed: Option<SteadyLoad>,
    ignored: bool,
    /// The load behind a record that the journal has not yet confirmed.
    pub(super) in_flight: Option<SteadyLoad>,
    /// The last open section of this pair was marked, and the load is still on the pan.
    pub(super) last_of_pair: Option<u16>,
    /// Marks that were taken back one after the other.
    pub(super) taken_back: u8,
}

impl Marking {
    pub(super) fn finger_came(&mut self, key: Key, stood: Option<SteadyLoad>) {
        self.ignored = false;
        self.latched = stood.map(|load| (key, load));
    }

    /// The press that woke the display does nothing else.
    pub(super) fn ignore_this_press(&mut self) {
        self.ignored = true;
    }

    pub(super) fn ignores(&self, press: Press) -> bool {
        self.ignored && !matches!(press, Press::Down(_))
    }

    pub(super) fn deadline(&self) -> Option<Instant> {
        self.waiting_until
    }

    pub(super) fn waits(&self) -> bool {
        self.waiting_until.is_some()
    }

    /// The load that stood when the finger came, and to which key, if that was just now. A long press is no reason to lose it.
    pub(super) fn latched(&self, now: Instant) -> Option<(Key, SteadyLoad)> {
        let age = LATCH_AGE.0.saturating_add(HOLD.0);
        self.latched.filter(|(_, load)| now.since(load.at()).0 <= age)
    }
}
