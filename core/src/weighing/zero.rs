//! Where the empty pan stands: at power-on, at every emptying, tracked only while the pan is known to be empty.
//!
//! What lies on the pan can be told from a shifted zero only by how a level came about. So a level near zero is taken for the empty pan
//! - at power-on, if it is within 0.1 % of the cell's rated load of the stored zero;
//! - when a load has gone off, if the zero cannot have shifted farther by creep, hysteresis and temperature than it seems to have;
//! - while the pan is empty already, if it came there slowly, or downwards. A step upwards from the empty pan is a load, however small.
//!
//! Slow changes under load are yarn being knitted and are never tracked.

use crate::signal::SteadyLevel;
use crate::units::{FineCounts, Instant};
use crate::weighing::load::ZeroPoint;

/// The zero now, whether the pan is known to be empty, and when it was found empty before.
#[derive(Clone, Debug)]
pub struct Zero {
    now: ZeroPoint,
    initial: FineCounts,
    empty: bool,
    /// Ticks that the level followed last is the mean of.
    ticks: u16,
    found: heapless::Deque<ZeroPoint, REMEMBERED>,
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
                strain: 0.0,
                proven: false,
            },
            initial: level,
            empty: false,
            ticks: 0,
            found: heapless::Deque::new(),
        }
    }

    /// The zero in force.
    #[must_use]
    pub const fn now(&self) -> ZeroPoint {
        self.now
    }

    /// The zero at power-on, about which a press may set it anew.
    #[must_use]
    pub const fn initial(&self) -> FineCounts {
        self.initial
    }

    /// Whether the pan is known to be empty now.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.empty
    }

    /// The first empty pan that was found after `at`, if it is still remembered.
    #[must_use]
    pub fn found_after(&self, at: Instant) -> Option<ZeroPoint> {
        self.found.iter().find(|point| point.at > at).copied()
    }

    /// Takes the steady level as the empty pan's, under a creep strain of `strain` mg.
    pub fn capture(&mut self, steady: SteadyLevel, strain: f32) {
        if !self.now.proven {
            self.initial = steady.level();
        }
        self.now = ZeroPoint {
            level: steady.level(),
            se: steady.se(),
            at: steady.at(),
            strain,
            proven: true,
        };
        self.empty = true;
        self.ticks = steady.ticks();
        if self.found.is_full() {
            let _ = self.found.pop_front();
        }
        // There is room: one was just taken off.
        let _ = self.found.push_back(self.now);
    }

    /// Follows the empty pan to `steady`, by at most `farthest` (sixteenths of a count); a level that is the mean of more ticks than any
    /// that was followed before is surer than the zero is, and may move it by so many times as much. Ticks are compared, not standard
    /// errors: those also wander with the noise as it is learnt, and every new least one would look like news of the level.
    pub fn track(&mut self, steady: SteadyLevel, strain: f32, farthest: i32) {
        let apart = steady.level().0.saturating_sub(self.now.level.0);
        let surer = steady.ticks() > self.ticks;
        let farthest = if surer {
            farthest.saturating_mul(SURER)
        } else {
            farthest
        };
        let step = apart.clamp(farthest.saturating_neg(), farthest);
        let se = if steady.ticks() >= self.ticks {
            steady.se()
        } else {
            self.now.se
        };
        self.ticks = self.ticks.max(steady.ticks());
        self.now = ZeroPoint {
            level: FineCounts(self.now.level.0.saturating_add(step)),
            se,
            at: steady.at(),
            strain,
            proven: true,
        };
    }

    /// It may have moved unseen.
    pub const fn doubt(&mut self) {
        self.now.proven = false;
        self.empty = false;
    }

    /// Something has come onto the pan.
    pub const fn load(&mut self) {
        self.empty = false;
    }

    /// Whether a level that has just settled at `gross` mg can be the empty pan, after at most `removed` mg have lain on it; `se` is
    /// the level's standard error, mg; `capacity` mg is the scale's, or the cell's rated load while the zero is not proven.
    #[must_use]
    pub fn accepts(&self, gross: f32, se: f32, removed: f32, capacity: f32, now: Instant) -> bool {
        if !self.now.proven {
            return gross <= WIDEST * capacity && gross >= -(LIFTED * WIDEST * capacity);
        }
        let minutes = now.since(self.now.at).0 as f32 / 60_000.0;
        let shift = (NARROWEST + 4.0 * se + STRAINED * removed + WANDER * capacity * minutes).min(WIDEST * capacity);
        let above = if self.empty { NARROWEST + 4.0 * se } else { shift };
        gross <= above && gross >= -(2.0 * shift)
    }
}

/// Forty times zero tracking is half a division a second, as much as OIML R 76-1, 4.5.7 allows.
const SURER: i32 = 40;
/// Empty pans that are remembered, for amendments.
const REMEMBERED: usize = 4;
/// A zero found again is always believed within this, mg: half a division.
const NARROWEST: f32 = 50.0;
/// Creep and hysteresis that a load may leave behind, of the load.
const STRAINED: f32 = 1e-3;
/// Wander with temperature and warming up, of capacity, a minute.
const WANDER: f32 = 3e-5;
/// And never beyond this share of the capacity (0.5 g of 500), or of the cell's rated load at power-on.
const WIDEST: f32 = 1e-3;
/// Downwards a stored zero may be this much farther off: nothing weighs less than nothing.
const LIFTED: f32 = 4.0;
