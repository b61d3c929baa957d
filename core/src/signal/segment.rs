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
    /// Sum of the segment's ticks: integers, so that it stays exact for ever.
    sum: i64,
}

impl Segment {
    /// An empty segment.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            ring: [FineCounts(0); LENGTH],
            next: 0,
            len: 0,
            sum: 0,
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
        self.sum = 0;
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

    /// Mean of all ticks of the segment; 0 of an empty one.
    #[must_use]
    pub fn level(&self) -> FineCounts {
        quotient(self.sum, self.len)
    }

    /// Mean of `n` ticks before the newest `skip`.
    #[must_use]
    pub fn mean_of(&self, skip: usize, n: usize) -> FineCounts {
        let n = n.clamp(1, LENGTH);
        quotient(self.sum_from(0, skip, skip.saturating_add(n)), n)
    }

    /// Takes a tick and says what it did.
    #[inline(never)]
    pub fn take(&mut self, tick: FineCounts, noise: &Noise) -> Change {
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
        let screen = Screen::new(noise, total, self.len);
        let mut recent: i64 = 0;
        let mut counted: usize = 0;
        for (window, calm) in WINDOWS {
            let rest = self.len.saturating_sub(window);
            if rest == 0 {
                break;
            }
            recent = self.sum_from(newest, counted, window).wrapping_add(recent);
            counted = window;
            if screen.passes(recent, window, rest, calm) {
                continue;
            }
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
        let own = noise.sigma();
        let others = noise.standard_error(rest);
        if apart * apart > TRIM_LIMIT * TRIM_LIMIT * (own * own + others * others) {
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

/// The test in small integers, for the ticks that plainly belong where the others are: nearly all.
///
/// A mean of `n` ticks has at least the variance `sigma² / n`, whatever their correlation. So a difference of means below
/// `limit * sigma / sqrt(window)` passes the test itself; only what is above has to be computed with all that is known of the noise.
struct Screen {
    /// Sixteenths of a count, rounded down.
    sigma: i32,
    total: i32,
    len: i32,
}

impl Screen {
    fn new(noise: &Noise, total: i64, len: usize) -> Self {
        let total = i32::try_from(total)
            .ok()
            .filter(|total| total.saturating_abs() < 1 << 25);
        Self {
            // Where the numbers are not small, nothing passes.
            sigma: total.map_or(-1, |_| {
                i32::try_from(noise.fine_sigma().min(1 << 15)).unwrap_or_default()
            }),
            total: total.unwrap_or_default(),
            len: i32::try_from(len).unwrap_or_default(),
        }
    }

    /// Whether the newest `window` ticks, with this sum, are no farther from the mean of the `rest` than `calm` 256ths of the noise.
    fn passes(&self, recent: i64, window: usize, rest: usize, calm: i32) -> bool {
        let Some(recent) = i32::try_from(recent)
            .ok()
            .filter(|recent| recent.saturating_abs() < 1 << 23)
        else {
            return false;
        };
        let [window, rest] = [window, rest].map(|n| i32::try_from(n).unwrap_or_default());
        // Both sides times window and rest, for want of a division.
        let apart = recent
            .wrapping_mul(self.len)
            .wrapping_sub(self.total.wrapping_mul(window));
        let near = (self.sigma.wrapping_mul(calm) >> 8).wrapping_mul(window.wrapping_mul(rest));
        apart.wrapping_abs() <= near
    }
}

/// `n` times a tick, in two multiplications that a small processor has.
fn times(tick: i32, n: usize) -> i64 {
    let n = i32::try_from(n).unwrap_or_default();
    i64::from((tick >> 8).wrapping_mul(n))
        .wrapping_shl(8)
        .wrapping_add(i64::from((tick & 0xFF).wrapping_mul(n)))
}

/// A sum of `n` ticks over their number, the part after the point dropped; in two small divisions instead of one of 64 bits.
fn quotient(sum: i64, n: usize) -> FineCounts {
    let n = u32::try_from(n).unwrap_or_default().max(1);
    let size = sum.unsigned_abs();
    // Below 2^27 for 128 ticks of 28 bits.
    let upper = u32::try_from(size >> 8).unwrap_or(u32::MAX);
    let lower = (upper.checked_rem(n).unwrap_or_default() << 8) | u32::from(size.to_le_bytes()[0]);
    let whole = (upper.checked_div(n).unwrap_or_default() << 8).wrapping_add(lower.checked_div(n).unwrap_or_default());
    let whole = whole.cast_signed();
    FineCounts(if sum < 0 { whole.wrapping_neg() } else { whole })
}

const MASK: usize = LENGTH - 1;
const _: () = assert!(LENGTH.is_power_of_two());
/// Windows of the test, ticks, and 256 times the limit over the root of each, rounded down: 4.8 for a jump, 4 for drift.
const WINDOWS: [(usize, i32); 6] = [(1, 1228), (2, 868), (4, 614), (8, 362), (16, 256), (32, 181)];
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
