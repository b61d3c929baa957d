//! From bouncing key levels to presses: short, held, repeated.

use crate::board::Levels;
use crate::units::{Duration, Instant};

/// One of the three keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Key {
    /// ZERO.
    Zero,
    /// MARK.
    Mark,
    /// NEXT.
    Next,
}

/// What a key did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Press {
    /// Went down; a short press or a hold follows.
    Down(Key),
    /// Was let go before it counted as held.
    Short(Key),
    /// Has been down for [`HOLD`].
    Held(Key),
    /// Is still down, once every `REPEAT` after it was held.
    Again(Key),
}

/// A contact must keep its level this long to be believed.
pub const DEBOUNCE: Duration = Duration(20);
/// Down this long is a hold: longer than any press in haste, short enough to wait for.
pub const HOLD: Duration = Duration(800);
/// A held key repeats this often.
pub(super) const REPEAT: Duration = Duration(120);

/// The three keys.
#[derive(Clone, Copy, Debug, Default)]
pub struct Keys {
    zero: Contact,
    mark: Contact,
    next: Contact,
}

impl Keys {
    /// Takes the levels at `now` and calls `on` for each press they complete.
    #[inline(never)]
    pub fn take(&mut self, now: Instant, levels: Levels, mut on: impl FnMut(Press)) {
        let keys = [
            (Key::Zero, &mut self.zero, levels.zero),
            (Key::Mark, &mut self.mark, levels.mark),
            (Key::Next, &mut self.next, levels.next),
        ];
        for (key, contact, level) in keys {
            contact.take(key, now, level, &mut on);
        }
    }

    /// When the next press can complete without a change of level.
    #[must_use]
    pub fn deadline(&self) -> Option<Instant> {
        sooner(self.zero.deadline(), sooner(self.mark.deadline(), self.next.deadline()))
    }

    /// Whether a key is down, or may be.
    #[must_use]
    pub fn is_busy(&self) -> bool {
        self.is_down() || self.deadline().is_some()
    }

    /// Whether a key is down.
    #[must_use]
    pub fn is_down(&self) -> bool {
        self.zero.down || self.mark.down || self.next.down
    }
}

/// One debounced contact.
#[derive(Clone, Copy, Debug, Default)]
struct Contact {
    down: bool,
    /// Since when the level has been other than `down`.
    differs_since: Option<Instant>,
    /// While down: when it counts as held, then when it repeats.
    next_at: Option<Instant>,
    held: bool,
}

impl Contact {
    fn take(&mut self, key: Key, now: Instant, level: bool, on: &mut impl FnMut(Press)) {
        if level == self.down {
            self.differs_since = None;
        } else {
            let since = *self.differs_since.get_or_insert(now);
            if now.since(since) >= DEBOUNCE {
                self.differs_since = None;
                self.turn(key, since, on);
            }
        }
        if let Some(at) = self.next_at.filter(|&at| self.down && now >= at) {
            on(if self.held { Press::Again(key) } else { Press::Held(key) });
            self.held = true;
            self.next_at = Some(at.max(now) + REPEAT);
        }
    }

    fn turn(&mut self, key: Key, since: Instant, on: &mut impl FnMut(Press)) {
        self.down = !self.down;
        if self.down {
            self.held = false;
            self.next_at = Some(since + HOLD);
            on(Press::Down(key));
        } else {
            self.next_at = None;
            if !self.held {
                on(Press::Short(key));
            }
        }
    }

    fn deadline(&self) -> Option<Instant> {
        sooner(self.differs_since.map(|since| since + DEBOUNCE), self.next_at)
    }
}

/// The earlier of two deadlines, where there are any.
#[must_use]
pub(crate) fn sooner(a: Option<Instant>, b: Option<Instant>) -> Option<Instant> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}
