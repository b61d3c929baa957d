//! How the contacts of the keys bounce, from their raw levels.

use crate::board::Levels;
use crate::units::{Duration, Instant};

/// Each key is pressed so often.
pub const PRESSES: u8 = 3;

/// A key that is down that long sticks.
const STICKS: Duration = Duration::from_secs(5);

/// In the place of a time: the key sticks, or was not pressed.
pub(super) const NOT_ONE: u8 = u8::MAX;

/// The three contacts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Contacts([Contact; 3]);

impl Contacts {
    /// Takes the levels at `now`. A contact is at rest when it has kept its level for `settled`.
    pub(super) fn take(&mut self, now: Instant, levels: Levels, settled: Duration) {
        let levels = [levels.zero, levels.mark, levels.next];
        for (contact, level) in self.0.iter_mut().zip(levels) {
            contact.take(now, level, settled);
        }
    }

    /// Presses of ZERO, MARK and NEXT so far.
    pub(super) fn presses(&self) -> [u8; 3] {
        self.0.map(|contact| contact.presses)
    }

    /// Every key was pressed often enough and is up, or one sticks.
    pub(super) fn done(&self, now: Instant) -> bool {
        self.0.iter().all(|contact| contact.is_good()) || self.0.iter().any(|contact| contact.sticks(now))
    }

    /// The longest bounce of each, ms, a byte each.
    pub(super) fn value(&self) -> i32 {
        let bytes = self.0.map(|contact| {
            if contact.is_good() {
                u8::try_from(contact.worst.0)
                    .unwrap_or(NOT_ONE)
                    .min(NOT_ONE.saturating_sub(1))
            } else {
                NOT_ONE
            }
        });
        i32::from_le_bytes([bytes[0], bytes[1], bytes[2], 0])
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Contact {
    level: bool,
    /// The level that it was last at rest at.
    down: bool,
    /// When it left that, and when it last changed.
    moving: Option<(Instant, Instant)>,
    down_since: Instant,
    worst: Duration,
    presses: u8,
}

impl Contact {
    fn take(&mut self, now: Instant, level: bool, settled: Duration) {
        if level != self.level {
            self.level = level;
            let (from, _) = self.moving.unwrap_or((now, now));
            self.moving = Some((from, now));
            if level {
                self.down_since = now;
            }
        } else if let Some((from, last)) = self.moving
            && now.since(last) >= settled
        {
            self.moving = None;
            self.worst = self.worst.max(Duration(last.since(from).0));
            if self.down && !level {
                self.presses = self.presses.saturating_add(1);
            }
            self.down = level;
        }
    }

    const fn is_good(&self) -> bool {
        self.presses >= PRESSES && !self.level && self.moving.is_none()
    }

    fn sticks(&self, now: Instant) -> bool {
        self.level && now.since(self.down_since) >= STICKS
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SETTLED: Duration = Duration(20);

    /// Takes levels of MARK that change at these times, looked at every millisecond until `end`.
    fn watched(changes: &[u64], end: u64) -> (Contacts, Instant) {
        let mut contacts = Contacts::default();
        for now in 0..=end {
            let mark = changes.iter().filter(|&&at| at <= now).count() % 2 == 1;
            let levels = Levels {
                mark,
                ..Levels::default()
            };
            contacts.take(Instant(now), levels, SETTLED);
        }
        (contacts, Instant(end))
    }

    #[test]
    fn a_press_is_one_however_it_bounces_and_the_longest_bounce_is_kept() {
        let (contacts, _) = watched(&[100, 101, 103, 200, 202, 207], 400);
        assert_eq!(contacts.presses(), [0, 1, 0]);
        let mark = contacts.0[1];
        assert_eq!(mark.worst, Duration(7), "from 200 to 207");
        let (slow, _) = watched(&[100, 119, 130, 300], 500);
        assert_eq!((slow.presses()[1], slow.0[1].worst), (1, Duration(30)));
    }

    #[test]
    fn three_clean_presses_are_enough_and_a_key_that_stays_down_sticks() {
        let (contacts, now) = watched(&[100, 200, 300, 400, 500, 600], 700);
        assert!(!contacts.done(now), "the others were not pressed");
        assert_eq!(contacts.value(), i32::from_le_bytes([255, 0, 255, 0]));
        let (stuck, now) = watched(&[100], 5_099);
        assert!(!stuck.done(now));
        assert!(stuck.done(Instant(5_100)));
        assert_eq!(stuck.value(), i32::from_le_bytes([255, 255, 255, 0]));
    }
}
