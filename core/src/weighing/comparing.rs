//! What two loads, or one load seen again from later, say together.

use crate::math::rss;
use crate::measured::Measured;
use crate::units::FineCounts;
use crate::weighing::budget::{Budget, pinned};
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

    /// The same by zero bracketing: once the pan has been found empty after `load`, its zero is interpolated in time between the empty
    /// pan before and the one after. `None` until then, or if the zero has moved farther than a cell's can: then something stayed on
    /// the pan.
    #[must_use]
    pub fn amended(&self, load: &SteadyLoad) -> Option<Measured> {
        let after = self.zero.found_after(load.at())?;
        let bracketed = SteadyLoad {
            zero: between(&load.zero, &after, load),
            ..*load
        };
        let mut budget = self.budget(&bracketed);
        if load.zero.proven {
            let shift =
                self.calibration.mass(after.level, load.zero.level) - self.creep.error(after.strain - load.zero.strain);
            budget.temperature = pinned(load.zero.at, load.at(), after.at, shift, self.conditions().rated);
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

/// The zero under `load`: in time between the one before and the one after. Creep is left to the strains, which do not run in a straight
/// line: they are interpolated along with the levels, so that what is left over after creep is what is taken as drift.
fn between(before: &ZeroPoint, after: &ZeroPoint, load: &SteadyLoad) -> ZeroPoint {
    if !before.proven {
        return *after;
    }
    let whole = after.at.since(before.at).0.max(1) as f32;
    let part = (load.at().since(before.at).0 as f32 / whole).min(1.0);
    let apart = after.level.0.saturating_sub(before.level.0) as f32;
    ZeroPoint {
        level: FineCounts(before.level.0.saturating_add((part * apart) as i32)),
        se: rss((1.0 - part) * before.se, part * after.se),
        at: load.at(),
        strain: before.strain + part * (after.strain - before.strain),
        proven: true,
    }
}
