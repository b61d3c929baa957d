//! Fingers on the three keys: presses, one after the other, as levels over time.

use std::collections::VecDeque;

use yarn_scale_core::app::{DEBOUNCE, HOLD, Key};
use yarn_scale_core::board::Levels;
use yarn_scale_core::units::{Duration, Instant};

/// What the fingers do now and will do next.
#[derive(Clone, Debug, Default)]
pub struct Fingers {
    changes: VecDeque<(Instant, Levels)>,
    levels: Levels,
    free_at: Instant,
}

impl Fingers {
    /// Presses a key shortly, at `at` or as soon as the fingers are free.
    pub fn press(&mut self, key: Key, at: Instant) {
        self.down_for(key, at, SHORT);
    }

    /// Presses a key until it counts as held.
    pub fn hold(&mut self, key: Key, at: Instant) {
        self.down_for(key, at, Duration(HOLD.0 + SHORT.0));
    }

    /// Presses a key for `time`.
    pub fn down_for(&mut self, key: Key, at: Instant, time: Duration) {
        let from = at.max(self.free_at);
        let until = from + time;
        self.changes.push_back((from, down(key)));
        self.changes.push_back((until, Levels::default()));
        self.free_at = until + GAP;
    }

    /// Holds a key, or goes on holding it if it is still down: a terminal that repeats a letter keeps the finger where it is.
    pub fn keep_down(&mut self, key: Key, at: Instant) {
        let goes_on = self.levels == down(key) && self.changes.len() == 1;
        match self.changes.back_mut() {
            Some((until, _)) if goes_on => {
                *until = (*until).max(at + LONGEST_REPEAT);
                self.free_at = *until + GAP;
            }
            _ => self.hold(key, at),
        }
    }

    /// Lets go of whatever is pressed, at `now`, and does nothing else that was planned.
    pub fn let_go(&mut self, now: Instant) {
        self.changes.clear();
        self.changes.push_back((now, Levels::default()));
        self.free_at = now + GAP;
    }

    /// The levels at `now`, which does not go back.
    pub fn levels(&mut self, now: Instant) -> Levels {
        while let Some(&(at, levels)) = self.changes.front()
            && at <= now
        {
            self.levels = levels;
            self.changes.pop_front();
        }
        self.levels
    }

    /// The levels as they were last asked for.
    #[must_use]
    pub fn now(&self) -> Levels {
        self.levels
    }

    /// When a level changes next.
    #[must_use]
    pub fn next_change(&self) -> Option<Instant> {
        self.changes.front().map(|&(at, _)| at)
    }

    /// When the last press is over and debounced.
    #[must_use]
    pub fn free_at(&self) -> Instant {
        self.free_at
    }
}

/// The levels while this key alone is down.
fn down(key: Key) -> Levels {
    Levels {
        zero: key == Key::Zero,
        mark: key == Key::Mark,
        next: key == Key::Next,
    }
}

/// A short press.
const SHORT: Duration = Duration(100);
/// Between two letters of a terminal that repeats one, at the slowest (common practice, no source).
const LONGEST_REPEAT: Duration = Duration(600);
/// Between two presses: long enough for the contact to be believed open.
const GAP: Duration = Duration(3 * DEBOUNCE.0);
