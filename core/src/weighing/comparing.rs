//! What two loads, or one load seen again from later, say together.

use crate::math::{rss, sqrt, whole};
use crate::measured::Measured;
use crate::units::FineCounts;
use crate::weighing::budget::{Budget, common, slow, wander};
use crate::weighing::conditions::Conditions;
use crate::weighing::load::{SteadyLoad, ZeroPoint};
use crate::weighing::scale::{Scale, rounded};

impl Scale {
    /// Everything on the pan when `load` settled, by the zero of then.
    #[must_use]
    pub fn gross(&self, load: &SteadyLoad) -> Measured {
        Measured {
            value: rounded(self.mass(load, &load.zero)),
            u: self.budget(load).combined(),
        }
    }

    /// The same by zero bracketing: once the pan has been found empty after `load`, its zero is taken from the empty pan before and the
    /// one after. `None` until then. If the zero has moved farther than a cell's can, something lay there before that did not after, or the other way
    /// round: under the load or not is unknown, and the uncertainty says so.
    #[must_use]
    pub fn amended(&self, load: &SteadyLoad) -> Option<Measured> {
        let after = self.zero.found_after(load.at())?;
        let conditions = self.conditions();
        let bracket = Bracket::of(load, &after, &conditions);
        let bracketed = SteadyLoad {
            zero: bracket.zero(&load.zero, &after, load),
            ..*load
        };
        let mut budget = self.budget(&bracketed);
        // Slow noise since the nearer of the two.
        let from_after = slow(load.flicker(), load.at(), after.at, &conditions);
        budget.flicker = if load.zero.proven {
            from_after.min(slow(load.flicker(), load.zero.at, load.at(), &conditions))
        } else {
            from_after
        };
        let way = rss(conditions.restless * bracket.u, bracketed.zero.doubt);
        budget.temperature = rss(way, bracket.contradiction);
        Some(Measured {
            value: rounded(self.mass(load, &bracketed.zero)),
            u: budget.combined(),
        })
    }

    /// What went off the pan between two loads since power came on: `before − after`.
    #[must_use]
    pub fn difference(&self, before: &SteadyLoad, after: &SteadyLoad) -> Measured {
        let (a, b) = (self.mass(before, &before.zero), self.mass(after, &after.zero));
        Measured {
            value: rounded(a - b),
            u: self.difference_budget(before, after).combined(),
        }
    }

    /// Standard uncertainty of that difference if both loads stand on one zero, mg, else `None`: then it is far less than two whole weights
    /// would have, for where that zero is does not matter.
    #[must_use]
    pub fn difference_u(&self, before: &SteadyLoad, after: &SteadyLoad) -> Option<f32> {
        after
            .shares_zero_with(before)
            .then(|| self.difference_budget(before, after).combined())
    }

    /// The uncertainty of that difference, by its parts.
    #[must_use]
    pub fn difference_budget(&self, before: &SteadyLoad, after: &SteadyLoad) -> Budget {
        let (a, b) = (self.mass(before, &before.zero), self.mass(after, &after.zero));
        let strain = (before.strain - before.zero.strain) - (after.strain - after.zero.strain);
        Budget::difference((before, a), (after, b), self.creep.u(strain), &self.conditions())
    }
}

/// How an empty pan before a load and one after it share in the zero under the load.
///
/// A zero of which either end is seen with some noise is known best by the share of its way that it is likely to have gone by then, given
/// that it has got there (the best linear estimate from two ends): a cell that warms up does most of it at first, one that is warm goes as
/// a walk does, evenly. And by the noise alone over a quarter of a minute, after which the empty pan has been seen for a moment only,
/// before it for long.
struct Bracket {
    /// Share of the empty pan after.
    part: f32,
    /// How far the zero under the load can be from there by drift, mg.
    u: f32,
    /// How far because the two ends are farther apart than a cell's zero moves, standard uncertainty in mg; mostly 0.
    contradiction: f32,
}

impl Bracket {
    /// Of the empty pan that `load` stands on, and the one after it.
    fn of(load: &SteadyLoad, after: &ZeroPoint, on: &Conditions) -> Self {
        let before = &load.zero;
        // Lay there at power-on: only the pan after it has been seen.
        if !before.proven {
            return Self {
                part: 1.0,
                u: wander(load.at(), after.at, on),
                contradiction: 0.0,
            };
        }
        let noise = [before, after].map(|zero| square(zero.se * on.mg_per_count) + square(zero.doubt));
        let gone = common(before.at, load.at(), load.at(), on);
        let both = common(before.at, load.at(), after.at, on);
        let whole = common(before.at, after.at, after.at, on);
        let part = (noise[0] + both) / (noise[0] + noise[1] + whole);
        let apart = (after.level.0.saturating_sub(before.level.0) as f32 / FineCounts::PER_COUNT as f32
            * on.mg_per_count)
            .abs();
        let possible = CONTRADICTS * sqrt(noise[0] + noise[1] + whole) + CREPT * (after.strain - before.strain).abs();
        Self {
            part,
            u: sqrt((gone - part * (2.0 * both - part * whole)).max(0.0)),
            contradiction: if apart > possible.max(LEAST_THING) {
                0.5 * apart
            } else {
                0.0
            },
        }
    }

    /// Creep is left to the strains, which do not run in a straight line: they are taken in the same shares as the levels, so that what is
    /// left over after creep is what is taken as drift.
    fn zero(&self, before: &ZeroPoint, after: &ZeroPoint, load: &SteadyLoad) -> ZeroPoint {
        let part = self.part;
        let apart = after.level.0.saturating_sub(before.level.0) as f32;
        ZeroPoint {
            level: FineCounts(before.level.0.saturating_add(whole(part * apart))),
            se: rss((1.0 - part) * before.se, part * after.se),
            at: load.at(),
            strain: before.strain + part * (after.strain - before.strain),
            doubt: rss((1.0 - part) * before.doubt, part * after.doubt),
            cooled: 0.0,
            proven: true,
        }
    }
}

fn square(x: f32) -> f32 {
    x * x
}

/// Standard uncertainties beyond which two empty pans contradict each other,
const CONTRADICTS: f32 = 3.5;
/// what creep may have done, of the strain,
const CREPT: f32 = 1e-3;
/// and the least that it can be about, mg.
const LEAST_THING: f32 = 110.0;
