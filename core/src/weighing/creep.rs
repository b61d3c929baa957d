//! Creep of the cell: followed, learnt from how the zero returns, and taken out.
//!
//! Under load a cell's output goes on by a few hundredths of a percent of the load for half an hour, and comes back as slowly. Two
//! relaxing elements describe it: a third of it within a minute, the rest within ten. Each follows the load `m`,
//! `x' = (m − x) / T`, and the output is off by `c (0.37 x1 + 0.68 x2)` with one unknown `c` for this cell, of either sign. The
//! weights make the bracket 1 after 30 min under a load of 1, as data sheets state creep.
//!
//! `c` shows whenever the pan is seen empty again: between two empty pans the zero has moved by `c` times the difference of the
//! brackets, by hysteresis, and by temperature. One number and one kind of observation: a scalar Kalman filter, which begins with
//! `c = 0` and the spread of cheap cells, and is never believed beyond what such cells do. So the correction is at most 0.05 % of the
//! load, half a division on the heaviest, and nothing where nothing has been learnt: it cannot invent yarn.

use crate::math::sqrt;
use crate::units::Duration;

/// What the cell remembers of its loads, and what is known of its creep.
#[derive(Clone, Copy, Debug)]
pub(super) struct Creep {
    fast: f32,
    slow: f32,
    strain: f32,
    pending: Duration,
    coefficient: f32,
    variance: f32,
}

impl Creep {
    /// A rested cell of which nothing is known.
    #[must_use]
    pub(super) const fn new() -> Self {
        Self {
            fast: 0.0,
            slow: 0.0,
            strain: 0.0,
            pending: Duration(0),
            coefficient: 0.0,
            variance: SPREAD * SPREAD,
        }
    }

    /// Lets `span` pass under `load` mg. It is followed in steps of a second, far shorter than the time constants; for less than that a
    /// load that has just come counts as if it had lain there already.
    pub(super) fn pass(&mut self, load: f32, span: Duration) {
        self.pending = Duration(self.pending.0.saturating_add(span.0));
        if self.pending < STEP {
            return;
        }
        let ms = self.pending.0 as f32;
        self.pending = Duration(0);
        self.fast += (load - self.fast) * (ms * (1e-3 / FAST_S));
        self.slow += (load - self.slow) * (ms * (1e-3 / SLOW_S));
        self.strain = FAST_SHARE * self.fast + SLOW_SHARE * self.slow;
    }

    /// The bracket now, mg: the load that would have to lie on for 30 min to strain the cell as it is now.
    #[must_use]
    pub(super) const fn strain(&self) -> f32 {
        self.strain
    }

    /// Learns from an empty pan that was found `shift` mg from the one before, while the strain changed by `strain` mg; `u` is what
    /// else may have moved it, mg.
    pub(super) fn learn(&mut self, shift: f32, strain: f32, u: f32) {
        let expected = self.variance * strain * strain + u * u;
        if expected <= 0.0 || shift * shift > SURPRISE * SURPRISE * expected {
            return;
        }
        let gain = self.variance * strain / expected;
        let learnt = self.coefficient + gain * (shift - self.coefficient * strain);
        self.coefficient = learnt.clamp(-MOST, MOST);
        self.variance = (self.variance * (1.0 - gain * strain)).max(LEAST * LEAST);
    }

    /// What creep has added to a reading for a change of strain of `strain` mg, mg.
    #[must_use]
    pub(super) fn error(&self, strain: f32) -> f32 {
        self.coefficient * strain
    }

    /// Standard uncertainty of that, mg: of the coefficient, and of a cell's time constants, which are not those assumed.
    #[must_use]
    pub(super) fn u(&self, strain: f32) -> f32 {
        sqrt(self.variance + SHAPE * SHAPE * self.coefficient * self.coefficient) * strain.abs()
    }
}

impl Default for Creep {
    fn default() -> Self {
        Self::new()
    }
}

/// Time constants, s, in the middle of what cells show.
const FAST_S: f32 = 60.0;
const SLOW_S: f32 = 620.0;
/// Time that is followed at once.
const STEP: Duration = Duration::from_secs(1);
/// Shares after 30 min: 0.35 and 0.65 of 1 / (0.35 + 0.65 (1 − e^(−1800/620))).
const FAST_SHARE: f32 = 0.363;
const SLOW_SHARE: f32 = 0.674;
/// Root mean square of creep in 30 min over cells of 0.02 to 0.05 %, either sign.
const SPREAD: f32 = 3.6e-4;
/// The largest creep that is believed.
const MOST: f32 = 5e-4;
/// Never surer of it than this.
const LEAST: f32 = 5e-5;
/// Relative uncertainty of the bracket for time constants from 30 to 90 s and 400 to 900 s.
const SHAPE: f32 = 0.2;
/// Standard deviations beyond which a shift of the zero was something else.
const SURPRISE: f32 = 3.0;
