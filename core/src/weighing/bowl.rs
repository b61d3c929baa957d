//! A bare bowl on the pan as a zero: its level before and after a load brackets that load as an empty pan would.
//!
//! While the bowl is bare the zero goes as its level does, no faster than the zero of an empty pan is followed. When something has been put in
//! and has come out again, the zero has moved by as much as the bowl's level has, if that is no more than a cell's can. Only the bowl that was
//! taken off is followed: of anything else yarn may be knitted meanwhile.

use crate::math::rss;
use crate::signal::SteadyLevel;
use crate::units::Instant;
use crate::weighing::load::SteadyLoad;
use crate::weighing::scale::Scale;
use crate::weighing::zero::Zero;

impl Scale {
    /// A load at `gross` mg has just settled: whether it is the bowl, bare again.
    pub(super) fn is_bowl_bare(&mut self, level: SteadyLevel, gross: f32, now: Instant) -> bool {
        let Some(base) = self.base.filter(|_| self.is_bowl(gross)) else {
            return false;
        };
        let gone = self.before - gross;
        let strained = self.creep.strain() - base.strain;
        let moved = rss(self.moved_since(&base, level, now), self.creep.u(strained));
        if !Zero::is_bare_again(self.difference_u_from(&base, level), moved, gone) {
            return false;
        }
        self.follow_bowl(&base, level, now);
        self.zero.remember();
        true
    }

    /// A load at `gross` mg goes on: lets the zero go as the bare bowl does.
    pub(super) fn follow_bare_bowl(&mut self, level: SteadyLevel, gross: f32, now: Instant) {
        if level.ticks() < SHORT || !self.zero.now().proven || !self.is_bowl(gross) {
            return;
        }
        let load = self.load(level, now);
        let Some(base) = self.base.filter(|base| !load.goes_on_from(base)) else {
            // The same, known better.
            self.base = Some(load);
            return;
        };
        let ticks = now.since(base.at()).0 / TICK_MS;
        if ticks < u32::from(LONG) {
            return;
        }
        let farthest = self.pace(now) * ticks as f32 + NOISE * self.level_noise(level);
        let apart = self.difference_u_from(&base, level);
        if apart.abs() <= farthest {
            self.follow_bowl(&base, level, now);
        } else {
            // Something small lies in it, or the level has moved by itself: it is followed from here on, and the zero is in doubt.
            self.zero.unsure(apart);
            self.base = Some(load);
        }
    }

    fn is_bowl(&self, gross: f32) -> bool {
        self.tare
            .is_some_and(|bowl| (gross - bowl.value.0 as f32).abs() <= ABOUT)
    }

    /// How far a level is from where the bare bowl was, but for creep, mg.
    fn difference_u_from(&self, base: &SteadyLoad, level: SteadyLevel) -> f32 {
        self.calibration.mass(level.level(), base.level()) - self.creep.error(self.creep.strain() - base.strain)
    }

    fn follow_bowl(&mut self, base: &SteadyLoad, level: SteadyLevel, now: Instant) {
        self.zero.shift(base.level, base.strain, level, self.creep.strain());
        self.estimator.expect(self.zero.now().level);
        self.base = Some(self.load(level, now));
    }
}

/// A bowl is the one that was taken off if it weighs as much within this, mg.
const ABOUT: f32 = 500.0;
/// Ticks of a level that is a bowl's,
const SHORT: u16 = 10;
/// and between two that are followed.
const LONG: u16 = 64;
const TICK_MS: u32 = 100;
/// Standard uncertainties of noise that are no thing in the bowl.
const NOISE: f32 = 4.0;
