//! The converter in bursts, a word every second or so: enough to see a load come and to follow the empty pan, not to weigh.
//!
//! Between the words the cell cools down, by how much is known as little as by how much it warms up. An empty pan is followed in the
//! bursts, so that its zero is as old as the last of them when a load comes. Under a load the zero cannot be seen: what it may have moved by
//! is added to its doubt, once however often it cools down, for it comes to the same; and the load that is weighed then does not share its zero with
//! the one weighed before.

use crate::converter::SampleRate;
use crate::math::{exp, ln, sqrt, whole};
use crate::units::{Duration, FineCounts, Instant, Milligrams};
use crate::weighing::budget::{WARM_UP, WARM_UP_S};
use crate::weighing::conditions::rated;
use crate::weighing::readout::Condition;
use crate::weighing::scale::{Scale, rounded};
use crate::weighing::zero::Zero;

impl Scale {
    /// Conversions a second, as far as is known.
    #[must_use]
    pub const fn rate(&self) -> SampleRate {
        self.estimator.rate()
    }

    /// What a burst says is on the pan, from the mean `level` of its words at `now`. A known empty pan is followed.
    pub fn glimpse(&mut self, now: Instant, level: FineCounts) -> Milligrams {
        let zero = self.zero.now();
        let strain = self.creep.strain();
        let gross = self.calibration.mass(level, zero.level) - self.creep.error(strain - zero.strain);
        let span = self
            .at
            .map_or(Duration(0), |before| now.since(before).min(LONGEST_PAUSE));
        self.at = Some(now);
        self.creep.pass(gross.clamp(0.0, self.capacity.0 as f32), span);
        if self.zero.is_empty() && Zero::still(gross, ONE_WORD * self.noise()) {
            self.zero.glimpsed(level, self.creep.strain(), now);
            self.estimator.expect(self.zero.now().level);
        }
        rounded(gross)
    }

    /// The converter has been in bursts from `since` until `now` and runs on again: the cell has cooled down and warms up once more, and what
    /// was weighed before has nothing to do with the words that follow.
    pub fn has_dozed(&mut self, since: Instant, now: Instant) {
        if now.since(self.zero.now().at) > LONGEST_PAUSE {
            let cooled = self.restless.factor() * self.cooled(now.since(since));
            self.zero.unseen(cooled);
        }
        let _ = self.lying.end();
        self.on_since = warm_since(self.on_since, since, now);
        self.estimator.interrupt();
        self.fine.forget();
        self.steady = None;
        self.gross = None;
        self.display.clear();
        self.condition = Condition::Starting;
    }

    /// How far a warm cell's zero moves in so long a pause, standard uncertainty in mg.
    fn cooled(&self, pause: Duration) -> f32 {
        let gone = WARM_UP_S.map(|(constant, weight)| {
            let part = 1.0 - exp(-seconds(pause) / constant);
            weight * part * part
        });
        WARM_UP * rated(self.calibration.mg_per_count(), self.capacity) * sqrt(gone.iter().sum())
    }
}

/// Since when a cell would have been on without a pause to be as warm as one that was on from `on` to `off` and is on again at `now`. That
/// it was on now and then in between is left out.
fn warm_since(on: Instant, off: Instant, now: Instant) -> Instant {
    let warm = 1.0 - exp(-seconds(off.since(on)) / MIDDLE_S);
    let left = warm * exp(-seconds(now.since(off)) / MIDDLE_S);
    let worth = -MIDDLE_S * ln((1.0 - left).max(LEAST));
    // Never below nothing, but for rounding.
    let worth = u64::try_from(whole(worth * 1_000.0)).unwrap_or(0);
    Instant(now.0.saturating_sub(worth))
}

const fn seconds(span: Duration) -> f32 {
    span.0 as f32 / 1_000.0
}

/// Standard deviation of a burst's level, of a tick's: one word at 10 a second, half a tick's words at 80.
const ONE_WORD: f32 = 1.5;
/// Longest pause between two bursts, with room for one that failed.
const LONGEST_PAUSE: Duration = Duration(5_000);
/// The middle one of the time constants of warming up, s.
const MIDDLE_S: f32 = 330.0;
/// A cell is never taken for warmer than e^−12 short of warm.
const LEAST: f32 = 6e-6;

#[cfg(test)]
mod tests {
    use super::*;

    /// By the definition of a relaxation with one time constant: a cell that is on for `T ln 2` is half warm, and a pause of the same length
    /// leaves half of that, a quarter, which `T ln (4 / 3)` would give.
    #[test]
    fn a_pause_takes_back_warming_up() {
        let half = (330.0 * 2.0_f64.ln() * 1_000.0) as u64;
        let quarter = 330.0 * (4.0_f64 / 3.0).ln() * 1_000.0;
        let since = warm_since(Instant(0), Instant(half), Instant(2 * half));
        assert!(
            (since.0 as f64 - (2.0 * half as f64 - quarter)).abs() < 1_000.0,
            "{since:?}"
        );
        let hour = Instant(3_600_000);
        assert!(hour.since(warm_since(Instant(0), hour, hour)).0 > 3_500_000);
        let later = Instant(7_200_000);
        assert!(later.since(warm_since(Instant(0), hour, later)).0 < 100);
    }
}
