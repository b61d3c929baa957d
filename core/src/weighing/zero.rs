//! Where the empty pan stands: at power-on, at every emptying, tracked only while the pan is known to be empty.

use crate::signal::SteadyLevel;
use crate::units::{FineCounts, Instant};
use crate::weighing::load::ZeroPoint;

/// The zero now and the one before, and whether the pan is known to be empty.
#[derive(Clone, Copy, Debug)]
pub struct Zero {
    now: ZeroPoint,
    empty: bool,
}

impl Zero {
    /// The stored zero, not proven.
    #[must_use]
    pub const fn stored(level: FineCounts) -> Self {
        Self {
            now: ZeroPoint {
                level,
                se: 0.0,
                at: Instant(0),
                proven: false,
            },
            empty: false,
        }
    }

    /// The zero in force.
    #[must_use]
    pub const fn now(&self) -> ZeroPoint {
        self.now
    }

    /// Whether the pan is known to be empty now.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.empty
    }

    /// Takes the steady level as the empty pan's.
    pub const fn capture(&mut self, steady: SteadyLevel) {
        self.now = ZeroPoint {
            level: steady.level(),
            se: steady.se(),
            at: steady.at(),
            proven: true,
        };
        self.empty = true;
    }

    /// Something has come onto the pan.
    pub const fn load(&mut self) {
        self.empty = false;
    }

    /// Whether a steady `gross` (mg) can be the empty pan again after `removed` (mg) was on it.
    ///
    /// The zero moves by creep and hysteresis of what was on it (0.15 % at most) and by temperature (0.05 % of capacity in 10 K;
    /// a room changes by a degree or so in five minutes). Before the pan has been seen empty at all, days may have passed.
    #[must_use]
    pub fn accepts(&self, gross: f32, removed: f32, capacity: f32, now: Instant) -> bool {
        let minutes = now.since(self.now.at).0 as f32 / 60_000.0;
        let wander = if self.now.proven {
            (NARROWEST + 1.5e-3 * removed.abs() + 5e-5 * capacity * minutes).min(WIDEST * capacity)
        } else {
            WIDEST * capacity
        };
        gross <= wander && gross >= -(2.0 * wander)
    }
}

/// A zero found again is always believed within this, mg.
const NARROWEST: f32 = 60.0;
/// And never beyond this share of the capacity.
const WIDEST: f32 = 1e-3;
