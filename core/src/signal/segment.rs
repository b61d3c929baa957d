//! The ticks since the last change of load, and the test that finds the next.
//!
//! A generalised likelihood ratio: were the last `k` ticks drawn from another level than the rest of the segment? For normal noise
//! the log ratio is half the square of
//! `z = (mean of last k − mean of rest) / sqrt(se(k)² + se(rest)² + flicker²)`,
//! tested at k = 1, 2, 4, 8, 16, 32: short windows see steps, long ones a slow change such as a cumulative sum would see.
//! Short windows mean that the load was changed (*jump*); long ones only that the level has moved (*drift*): the old part of the
//! segment is dropped, so that the level follows within seconds.

use crate::signal::noise::Noise;
use crate::units::FineCounts;

/// Ticks that a segment holds at most: 12.8 s.
pub(super) const LENGTH: usize = 128;

/// What the newest tick did to the segment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Change {
    /// It belongs to it.
    None,
    /// The level has moved slowly; the segment was shortened to what is new.
    Drift,
    /// The level jumped; the segment begins anew with so many ticks.
    Jump(usize),
}

/// The ticks since the last change.
#[derive(Clone, Debug)]
pub(super) struct Segment {
    ring: [FineCounts; LENGTH],
    next: usize,
    len: usize,
    /// Sum of the segment's ticks: integers, so that it stays exact for ever.
    sum: i64,
}

impl Segment {
    /// An empty segment.
    #[must_use]
    pub(super) const fn new() -> Self {
        Self {
            ring: [FineCounts(0); LENGTH],
            next: 0,
            len: 0,
            sum: 0,
        }
    }

    /// Number of ticks in it.
    #[must_use]
    pub(super) const fn len(&self) -> usize {
        self.len
    }

    /// Forgets everything.
    pub(super) const fn clear(&mut self) {
        self.len = 0;
        self.sum = 0;
    }

    /// The tick `age` before the newest, also from before the segment began (0 is the newest).
    #[must_use]
    pub(super) fn back(&self, age: usize) -> FineCounts {
        let slot = self.next.wrapping_sub(1).wrapping_sub(age) & MASK;
        self.ring.get(slot).copied().unwrap_or_default()
    }

    /// Mean of the newest `n` ticks (at least one, at most all).
    #[must_use]
    pub(super) fn mean(&self, n: usize) -> FineCounts {
        self.mean_of(0, n)
    }

    /// Mean of all ticks of the segment; 0 of an empty one.
    #[must_use]
    pub(super) fn level(&self) -> FineCounts {
        quotient(self.sum, self.len)
    }

    /// Mean of `n` ticks before the newest `skip`.
    #[must_use]
    pub(super) fn mean_of(&self, skip: usize, n: usize) -> FineCounts {
        let n = n.clamp(1, LENGTH);
        quotient(self.sum_from(0, skip, skip.saturating_add(n)), n)
    }

    /// Takes a tick and says what it did.
    pub(super) fn take(&mut self, tick: FineCounts, noise: &Noise) -> Change {
        if let Some(slot) = self.ring.get_mut(self.next) {
            let leaving = core::mem::replace(slot, tick);
            if self.len == LENGTH {
                self.sum = self.sum.wrapping_sub(i64::from(leaving.0));
            }
        }
        self.next = self.next.wrapping_add(1) & MASK;
        self.len = self.len.saturating_add(1).min(LENGTH);
        self.sum = self.sum.wrapping_add(i64::from(tick.0));
        let change = self.test(noise);
        if change == Change::None {
            self.trim(noise);
        }
        change
    }

    /// The likelihood ratio at every window, shortest first.
    fn test(&mut self, noise: &Noise) -> Change {
        let newest = self.back(0).0;
        let total = self.sum.wrapping_sub(times(newest, self.len));
        let mut recent: i64 = 0;
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
            let mut variance = noise.variance_of_mean(window) + noise.variance_of_mean(rest);
            if window >= SLOW {
                variance += noise.flicker_variance();
            }
            if apart * apart > limit * limit * variance {
                self.len = window;
                self.sum = recent.wrapping_add(times(newest, window));
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
        let kept = self.sum.wrapping_sub(i64::from(oldest));
        let apart = kept.wrapping_sub(times(oldest, rest)) as f32 / (rest as f32 * FineCounts::PER_COUNT as f32);
        let variance = noise.variance_of_mean(1) + noise.variance_of_mean(rest);
        if apart * apart > TRIM_LIMIT * TRIM_LIMIT * variance {
            self.len = rest;
            self.sum = kept;
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

/// `n` times a tick.
fn times(tick: i32, n: usize) -> i64 {
    i64::from(tick).wrapping_mul(n as i64)
}

/// A sum of `n` ticks over their number, the part after the point dropped.
fn quotient(sum: i64, n: usize) -> FineCounts {
    let mean = sum.checked_div(n as i64).unwrap_or_default();
    FineCounts(i32::try_from(mean).unwrap_or_default())
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
