//! How restless this unit is beside what the budget assumes of cheap ones: learnt from what its zero does.
//!
//! Creep, hysteresis, warming up and the room move the zero from one empty pan to the next, the amplifier's slow wander while it lies empty. By how
//! much is known to the budget only as for units in general; each observation is one of this unit: the square of the shift, less that of the
//! noise, over the variance that was expected. Their mean, weighted by how little of the shift noise could be, and begun with a guess that counts
//! as some observations (the mean of a scaled inverse chi-squared prior, whose conjugate this is), multiplies what the budget assumes.

use crate::math::sqrt;
use crate::signal::SteadyLevel;
use crate::units::FineCounts;

/// This unit beside the assumed one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Restless {
    mean_square: f32,
    /// Observations that it is the mean of, the guess included, and after how many the past is forgotten.
    weight: f32,
    memory: f32,
    /// As much as a single observation may say.
    most: f32,
}

impl Restless {
    /// A cell of which nothing is known: as assumed, of cells in general; what one may be beside them is in [`Self::allowance`].
    #[must_use]
    pub(super) const fn cell() -> Self {
        Self {
            mean_square: 1.0,
            weight: GUESS,
            memory: 24.0,
            most: MOST_OF_ONE,
        }
    }

    /// An amplifier of which nothing is known, likewise. A pan that lies empty for minutes says much of it.
    #[must_use]
    pub(super) const fn amplifier() -> Self {
        Self {
            mean_square: 1.0,
            weight: GUESS,
            memory: 60.0,
            most: MOST_OF_ONE,
        }
    }

    /// A converter of whose steps nothing is known: they are rare, and each says much.
    #[must_use]
    pub(super) const fn steps() -> Self {
        Self {
            most: MOST_OF_A_STEP,
            ..Self::amplifier()
        }
    }

    /// Learns from a zero that was found `shift` mg from where it was expected; `noise` and `moved` mg are the standard uncertainties that noise
    /// alone and the unit's own doing were expected to give it.
    pub(super) fn learn(&mut self, shift: f32, noise: f32, moved: f32) {
        let expected = moved * moved;
        if expected <= 0.0 {
            return;
        }
        let told = expected / (expected + noise * noise);
        let weight = told * told;
        let square = ((shift * shift - noise * noise) / expected).clamp(0.0, self.most);
        self.weight = (self.weight + weight).min(self.memory);
        self.mean_square += weight * (square - self.mean_square) / self.weight;
    }

    /// By which what the budget assumes of the unit's own doing is multiplied.
    #[must_use]
    pub(super) fn factor(&self) -> f32 {
        sqrt(self.mean_square).clamp(LEAST, MOST)
    }

    /// The same with what a mean of so few observations may hide: 95 % of all units lie within as many standard uncertainties of it as they do
    /// for a normal distribution (Student's t over 1.96, its expansion in one over the degrees of freedom, good to 2 % from four on).
    #[must_use]
    pub(super) fn allowance(&self) -> f32 {
        let one = self.weight.recip();
        self.factor() * (1.0 + one * (1.2 + 1.8 * one))
    }

    /// What is multiplied likewise of something that most units have nothing of.
    #[must_use]
    pub(super) fn bare(&self) -> f32 {
        sqrt(self.mean_square)
    }
}

/// Follows the mean of an empty pan from stretch to stretch.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Wandering {
    ticks: u16,
    short: u16,
    before: [Option<FineCounts>; 2],
    /// The level of the newest tick; and the one from which it has jumped, until the level behind the jump is known as well.
    last: Option<FineCounts>,
    jumped_from: Option<FineCounts>,
}

impl Wandering {
    /// Takes the level at a tick. Every [`STRETCH`] ticks it says by how many counts the step from the last such level differs from the one
    /// before: an even drift has no part in it.
    pub(super) fn take(&mut self, level: FineCounts) -> Option<f32> {
        self.last = Some(level);
        self.ticks = self.ticks.saturating_add(1);
        if self.ticks < STRETCH {
            return None;
        }
        self.ticks = 0;
        let [one, two] = self.before;
        self.before = [Some(level), one];
        let (one, two) = one.zip(two)?;
        let step = level.0.saturating_sub(one.0);
        let differs = step.saturating_sub(one.0.saturating_sub(two.0));
        Some(differs as f32 / FineCounts::PER_COUNT as f32)
    }

    /// Whether three short stretches have gone by that were not yet looked at, of a level that has stood for `ticks`.
    pub(super) const fn short_is_due(&mut self, ticks: u16) -> bool {
        self.short = self.short.saturating_add(1);
        let due = ticks >= 3 * SHORT && self.short >= SHORT;
        if due {
            self.short = 0;
        }
        due
    }

    /// By how many counts the level has jumped, once the one behind the jump has stood for `ticks`.
    pub(super) fn jump(&mut self, level: FineCounts, ticks: u16) -> Option<f32> {
        if ticks < SHORT {
            return None;
        }
        let from = self.jumped_from.take()?;
        Some(level.0.saturating_sub(from.0) as f32 / FineCounts::PER_COUNT as f32)
    }

    /// It has jumped, and nothing has come in between.
    pub(super) fn jumped(&mut self) {
        let from = self.jumped_from.or(self.last);
        self.interrupt();
        self.jumped_from = from;
    }

    /// Something has come in between.
    pub(super) const fn interrupt(&mut self) {
        self.ticks = 0;
        self.before = [None; 2];
        self.last = None;
        self.jumped_from = None;
    }
}

/// Ticks of a stretch: as many as a mean is taken of.
pub(super) const STRETCH: u16 = 128;
/// Ticks of a short stretch: three of them go into what is remembered of a level.
pub(super) const SHORT: u16 = 40;
/// As much as a single observation may say: a thing left behind would say more.
const MOST_OF_ONE: f32 = 36.0;
/// The same of a step.
const MOST_OF_A_STEP: f32 = 400.0;
/// Never calmer than this, nor more restless than that.
const LEAST: f32 = 0.8;
const MOST: f32 = 6.0;
/// Observations that the guess is worth.
const GUESS: f32 = 4.0;

/// How the level of the empty pan goes while nothing happens, from when it has been known for some seconds on.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Lying {
    /// First and last, each with the creep strain of then, mg.
    seen: Option<[(SteadyLevel, f32); 2]>,
}

impl Lying {
    /// The empty pan at a tick.
    pub(super) fn take(&mut self, level: SteadyLevel, strain: f32) {
        if level.ticks() >= SHORT {
            let now = (level, strain);
            let first = self.seen.map_or(now, |[first, _]| first);
            self.seen = Some([first, now]);
        }
    }

    /// Something has come onto it: what was seen, first and last.
    pub(super) const fn end(&mut self) -> Option<[(SteadyLevel, f32); 2]> {
        self.seen.take()
    }
}
