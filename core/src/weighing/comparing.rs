//! What two loads, or one load seen again from later, say together.

use crate::math::{larger, rss, sqrt};
use crate::measured::Measured;
use crate::units::FineCounts;
use crate::weighing::budget::{Budget, walk, wander};
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
    /// one after. `None` until then, or if the zero has moved farther than a cell's can: then something stayed on the pan.
    #[must_use]
    pub fn amended(&self, load: &SteadyLoad) -> Option<Measured> {
        let after = self.zero.found_after(load.at())?;
        let conditions = self.conditions();
        let shift =
            self.calibration.mass(after.level, load.zero.level) - self.creep.error(after.strain - load.zero.strain);
        let bracket = Bracket::of(load, &after, shift, &conditions);
        let bracketed = SteadyLoad {
            zero: bracket.zero(&load.zero, &after, load),
            ..*load
        };
        let mut budget = self.budget(&bracketed);
        if load.zero.proven {
            budget.temperature = bracket.u;
        }
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
/// A zero that wanders as a walk does, and of which either end is seen with some noise, is known best by weights that go with the inverse
/// of noise and walk of either end together: by time alone where the noise is small against the walk, as over an hour; by the noise alone
/// over a quarter of a minute, after which the empty pan has been seen for a moment only, before it for long.
/// How fast it walks shows in how far it has gone, beyond what noise explains.
struct Bracket {
    /// Share of the empty pan after.
    part: f32,
    /// How far the zero under the load can be from there by drift, mg.
    u: f32,
}

impl Bracket {
    /// Of empty pans that lie `shift` mg apart.
    fn of(load: &SteadyLoad, after: &ZeroPoint, shift: f32, on: &Conditions) -> Self {
        let before = &load.zero;
        if !before.proven {
            return Self { part: 1.0, u: 0.0 };
        }
        let noise = [before, after].map(|zero| square(zero.se * on.mg_per_count));
        let whole = after.at.since(before.at).0.max(1) as f32;
        let time = (load.at().since(before.at).0 as f32 / whole).min(1.0);
        let seen = larger(square(shift) - EXPLAINED * (noise[0] + noise[1]), 0.0);
        let room = walk(whole, on.rated);
        let walked = seen + room;
        let part = (noise[0] + walked * time) / (noise[0] + noise[1] + walked);
        let between = time * (1.0 - time);
        let aside = part - time;
        Self {
            part,
            u: rss(
                sqrt(room * between),
                rss(
                    4.0 * between * BENT * shift,
                    aside * wander(before.at, after.at, on.rated),
                ),
            ),
        }
    }

    /// Creep is left to the strains, which do not run in a straight line: they are taken in the same shares as the levels, so that what is
    /// left over after creep is what is taken as drift.
    fn zero(&self, before: &ZeroPoint, after: &ZeroPoint, load: &SteadyLoad) -> ZeroPoint {
        let part = self.part;
        let apart = after.level.0.saturating_sub(before.level.0) as f32;
        ZeroPoint {
            level: FineCounts(before.level.0.saturating_add((part * apart) as i32)),
            se: rss((1.0 - part) * before.se, part * after.se),
            at: load.at(),
            strain: before.strain + part * (after.strain - before.strain),
            proven: true,
        }
    }
}

/// Variances of noise in a shift that noise explains: two standard deviations.
const EXPLAINED: f32 = 4.0;
/// How far a drift that dies away leaves the chord in its middle, of the whole of it: 0.13 over one time constant, 0.37 over three.
const BENT: f32 = 0.3;

fn square(x: f32) -> f32 {
    x * x
}
