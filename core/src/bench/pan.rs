//! What raw conversions of a pan at rest tell: how many a second, how noisy, where they stand, how they drift.
//!
//! Raw, so that a converter that the scale would refuse can be looked at; in counts, so that no calibration stands between.

use crate::math::{sqrt, whole};
use crate::units::{Counts, Duration, Instant};

/// Conversions over a span of time that is known before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Pan {
    from: Instant,
    span: Duration,
    first: Option<(Instant, Counts)>,
    last: (Instant, Counts),
    /// Steps from one conversion to the next.
    steps: u32,
    /// Sum of their squares.
    squares: u64,
    /// In the first, second and last third of the span: how many, and the sum of their distances from the first.
    thirds: [(u32, i64); 3],
}

impl Pan {
    /// Nothing yet, of a `span` from `from` on.
    pub(super) const fn new(from: Instant, span: Duration) -> Self {
        Self {
            from,
            span,
            first: None,
            last: (from, Counts(0)),
            steps: 0,
            squares: 0,
            thirds: [(0, 0); 3],
        }
    }

    /// A conversion has come.
    pub(super) fn take(&mut self, now: Instant, counts: Counts) {
        let (_, first) = *self.first.get_or_insert((now, counts));
        let part = now
            .since(self.from)
            .0
            .saturating_mul(3)
            .checked_div(self.span.0)
            .unwrap_or(0);
        if let Some((count, sum)) = self.thirds.get_mut(part as usize) {
            *count = count.saturating_add(1);
            *sum = sum.saturating_add(i64::from(counts.0.saturating_sub(first.0)));
        }
        if self.first != Some((now, counts)) {
            let step = u64::from(counts.0.abs_diff(self.last.1.0));
            self.steps = self.steps.saturating_add(1);
            self.squares = self.squares.saturating_add(step.saturating_mul(step));
        }
        self.last = (now, counts);
    }

    /// Conversions in a thousand seconds; 0 if fewer than two came.
    pub(super) fn in_a_thousand_seconds(&self) -> i32 {
        let passed = self.first.map_or(0, |(first, _)| self.last.0.since(first).0);
        let rate = u64::from(self.steps)
            .saturating_mul(1_000_000)
            .checked_div(passed.into());
        rate.map_or(0, |rate| i32::try_from(rate).unwrap_or(i32::MAX))
    }

    /// Standard deviation of a conversion, milli-counts, by the steps from one to the next, so that a slow drift does not count; `None` if
    /// too few came.
    pub(super) fn noise(&self) -> Option<i32> {
        let mean = self.squares as f32 / (self.steps as f32 * 2.0);
        (self.steps >= FEWEST).then_some(whole(sqrt(mean) * 1_000.0))
    }

    /// The mean, counts; `None` if too few came.
    pub(super) fn mean(&self) -> Option<i32> {
        let (count, sum) = self.thirds.iter().fold((0_u32, 0_i64), |(all, total), &(count, sum)| {
            (all.saturating_add(count), total.saturating_add(sum))
        });
        let (_, first) = self.first?;
        let above = i32::try_from(sum.checked_div(count.into())?).ok()?;
        (count > FEWEST).then_some(first.0.saturating_add(above))
    }

    /// Drift, milli-counts a minute: the mean of the last third less that of the first; `None` if either holds too few.
    pub(super) fn drift(&self) -> Option<i32> {
        let mean = |(count, sum): (u32, i64)| (count >= FEWEST).then_some(sum as f32 / count as f32);
        let [first, _, last] = self.thirds.map(mean);
        let apart = self.span.0 as f32 * (2.0 / 3.0) / 60_000.0;
        Some(whole((last? - first?) * 1_000.0 / apart))
    }
}

/// Fewer conversions tell nothing.
const FEWEST: u32 = 8;

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(every_ms: u64, seconds: u32, counts: impl Fn(u64) -> i32) -> Pan {
        let mut pan = Pan::new(Instant(5_000), Duration::from_secs(seconds));
        for ms in (0..u64::from(seconds) * 1_000).step_by(every_ms as usize) {
            pan.take(Instant(5_000_u64.saturating_add(ms)), Counts(counts(ms)));
        }
        pan
    }

    #[test]
    fn rate_mean_noise_and_drift_of_what_is_known() {
        // Steps of 100 counts to and fro: a spread of 50 about the mean; by the steps 100 / sqrt 2.
        let pan = watched(100, 60, |ms| -400_000 + if ms % 200 == 0 { 0 } else { 100 });
        assert_eq!(pan.in_a_thousand_seconds(), 10_000);
        assert_eq!(pan.mean(), Some(-399_950));
        assert_eq!(pan.noise(), Some(70_710));
        assert_eq!(pan.drift(), Some(0));
        // 600 counts in a minute, evenly; a drift is no noise.
        let drifting = watched(100, 60, |ms| (ms / 100) as i32);
        assert_eq!(drifting.drift(), Some(600_000));
        assert_eq!(drifting.noise(), Some(707));
        assert_eq!(watched(12, 6, |_| 7).in_a_thousand_seconds(), 83_333);
    }

    #[test]
    fn the_ends_of_the_range_do_not_overflow_and_too_few_tell_nothing() {
        let wild = watched(12, 60, |ms| if ms % 24 == 0 { -8_388_608 } else { 8_388_607 });
        assert_eq!(wild.noise(), Some(i32::MAX), "more than can be said");
        assert!(wild.mean().is_some() && wild.drift().is_some());
        let none = Pan::new(Instant(0), Duration::from_secs(6));
        assert_eq!(
            (none.in_a_thousand_seconds(), none.noise(), none.mean(), none.drift()),
            (0, None, None, None)
        );
        let few = watched(1_000, 6, |_| 3);
        assert_eq!((few.noise(), few.mean()), (None, None));
        assert_eq!(few.in_a_thousand_seconds(), 1_000);
    }
}
