//! The ticks since the last change of load, and the test that finds the next.
//!
//! A generalised likelihood ratio: were the last `k` ticks drawn from another level than the rest of the segment? For normal noise
//! the log ratio is half the square of
//! `z = (mean of last k − mean of rest) / sqrt(se(k)² + se(rest)² + flicker²)`,
//! tested at k = 1, 2, 4, 8, 16, 32: short windows see steps, long ones a slow change such as a cumulative sum would see.
//! Short windows mean that somebody did something (*jump*); long ones only that the level has moved (*drift*): the old part of the
//! segment is dropped, so that the level follows within seconds.

use crate::signal::noise::Noise;
use crate::units::FineCounts;

/// Ticks that a segment holds at most: 12.8 s.
pub const LENGTH: usize = 128;

/// What the newest tick did to the segment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// It belongs to it.
    None,
    /// The level has moved slowly; the segment was shortened to what is new.
    Drift,
    /// The level jumped; the segment begins anew with so many ticks.
    Jump(usize),
}

/// The ticks since the last change.
#[derive(Clone, Debug)]
pub struct Segment {
    ring: [FineCounts; LENGTH],
    next: usize,
    len: usize,
}

impl Segment {
    /// An empty segment.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            ring: [FineCounts(0); LENGTH],
            next: 0,
            len: 0,
        }
    }

    /// Number of ticks in it.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.len
    }

    /// Whether it holds nothing.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.len == 0
    }

    /// Forgets everything.
    pub const fn clear(&mut self) {
        self.len = 0;
    }

    /// The tick `age` before the newest, also from before the segment began (0 is the newest).
    #[must_use]
    pub fn back(&self, age: usize) -> FineCounts {
        let slot = self.next.wrapping_sub(1).wrapping_sub(age) & MASK;
        self.ring.get(slot).copied().unwrap_or_default()
    }

    /// Mean of the newest `n` ticks (at least one, at most all).
    #[must_use]
    pub fn mean(&self, n: usize) -> FineCounts {
        self.mean_of(0, n)
    }

    /// Mean of `n` ticks before the newest `skip`.
    #[must_use]
    pub fn mean_of(&self, skip: usize, n: usize) -> FineCounts {
        let n = n.clamp(1, LENGTH);
        let sum = self.sum_from(0, skip, skip.saturating_add(n));
        let n = i64::try_from(n).unwrap_or(1);
        FineCounts(i32::try_from(sum.checked_div(n).unwrap_or_default()).unwrap_or_default())
    }

    /// Takes a tick and says what it did.
    pub fn take(&mut self, tick: FineCounts, noise: &Noise) -> Change {
        if let Some(slot) = self.ring.get_mut(self.next) {
            *slot = tick;
        }
        self.next = self.next.wrapping_add(1) & MASK;
        self.len = self.len.saturating_add(1).min(LENGTH);
        let change = self.test(noise);
        if change == Change::None {
            self.trim(noise);
        }
        change
    }

    /// The likelihood ratio at every window, shortest first.
    fn test(&mut self, noise: &Noise) -> Change {
        let newest = self.back(0).0;
        let total = self.sum_from(newest, 0, self.len);
        let mut recent = 0;
        let mut counted: usize = 0;
        for window in WINDOWS {
            let rest = self.len.saturating_sub(window);
            if rest == 0 {
                break;
            }
            recent = self.sum_from(newest, counted, window).wrapping_add(recent);
            counted = window;
            let apart = (recent as f32 / window as f32 - total.wrapping_sub(recent) as f32 / rest as f32)
                / FineCounts::PER_COUNT as f32;
            let limit = if window < SLOW { JUMP_LIMIT } else { DRIFT_LIMIT };
            let own = noise.standard_error(window);
            let others = noise.standard_error(rest);
            let mut variance = own * own + others * others;
            if window >= SLOW {
                variance += noise.flicker() * noise.flicker();
            }
            if apart * apart > limit * limit * variance {
                self.len = window;
                return if window < SLOW {
                    Change::Jump(window)
                } else {
                    Change::Drift
                };
            }
        }
        Change::None
    }

    /// Drops the oldest tick of a young segment if it does not fit: the tail of a step in the converter's filter is too small for
    /// the test and still weighs in a short mean.
    fn trim(&mut self, noise: &Noise) {
        if !(3..=YOUNG).contains(&self.len) {
            return;
        }
        let rest = self.len.saturating_sub(1);
        let oldest = self.back(rest).0;
        let apart = self.sum_from(oldest, 0, rest) as f32 / (rest as f32 * FineCounts::PER_COUNT as f32);
        let own = noise.sigma();
        let others = noise.standard_error(rest);
        if apart * apart > TRIM_LIMIT * TRIM_LIMIT * (own * own + others * others) {
            self.len = rest;
        }
    }

    /// Sum of the ticks of age `from .. to`, relative to `reference`, sixteenths of a count.
    fn sum_from(&self, reference: i32, from: usize, to: usize) -> i64 {
        (from..to)
            .map(|age| i64::from(self.back(age).0.wrapping_sub(reference)))
            .fold(0, i64::wrapping_add)
    }
}

impl Default for Segment {
    fn default() -> Self {
        Self::new()
    }
}

const MASK: usize = LENGTH - 1;
const _: () = assert!(LENGTH.is_power_of_two());
/// Windows of the test, ticks.
const WINDOWS: [usize; 6] = [1, 2, 4, 8, 16, 32];
/// From this window on a change is drift, not a jump.
const SLOW: usize = 8;
/// Standard deviations for a jump: at 10 ticks a second and three short windows, a false one in two hours or so.
const JUMP_LIMIT: f32 = 4.8;
/// Standard deviations for drift.
const DRIFT_LIMIT: f32 = 4.0;
/// Standard deviations beyond which the oldest tick of a young segment is dropped.
const TRIM_LIMIT: f32 = 2.0;
/// Ticks up to which a segment is young.
const YOUNG: usize = 12;
