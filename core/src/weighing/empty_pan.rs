//! What a steady level near zero says of the pan, how far the zero can have moved, and how it is followed while the pan is empty.

use crate::math::{rss, sqrt, whole};
use crate::signal::SteadyLevel;
use crate::units::{FineCounts, Instant};
use crate::weighing::budget::{Budget, wander};
use crate::weighing::conditions::rated;
use crate::weighing::load::{SteadyLoad, ZeroPoint};
use crate::weighing::restless::SHORT;
use crate::weighing::scale::Scale;
use crate::weighing::zero::{PanState, Settled, Zero};

impl Scale {
    /// Follows the known empty pan to a level that is still its.
    pub(super) fn track(&mut self, level: SteadyLevel, gross: f32, now: Instant) {
        let per_mg = FineCounts::PER_COUNT as f32 / self.calibration.mg_per_count().abs();
        let pace = whole((per_mg * self.pace(now)).max(1.0));
        let noise = rss(level.se(), self.zero.now().se) * self.calibration.mg_per_count().abs();
        let behind = sqrt((gross * gross - noise * noise).max(0.0));
        self.zero
            .track(level, self.creep.strain(), pace, whole(per_mg * LEAP), behind);
        self.estimator.expect(self.zero.now().level);
        self.lying.take(level, self.creep.strain());
    }

    /// Learns from a level at rest, of whatever load, how much the amplifier wanders.
    pub(super) fn learn_wandering(&mut self, level: SteadyLevel) {
        let moved = sqrt(OF_PINK) * self.estimator.noise().flicker();
        if let Some(shift) = self.wandering.take(level.level()) {
            let noise = sqrt(SECOND_DIFFERENCE) * level.se();
            self.amplifier.learn(shift, noise, moved);
            let all = rss(noise, self.amplifier.factor() * moved);
            self.steps.learn(shift, all, Budget::STEPS_IN_A_STRETCH);
        }
        if let Some(shift) = self.wandering.jump(level.level(), level.ticks()) {
            self.learn_step(shift, level.se());
        }
        if self.wandering.short_is_due(level.ticks()) {
            let ticks = usize::from(SHORT);
            let noise = sqrt(SECOND_DIFFERENCE) * self.estimator.noise().standard_error(ticks);
            self.amplifier.learn(self.estimator.bend(ticks), noise, moved);
        }
    }

    /// A level has jumped by `shift` counts with nothing on the pan, or none that was put there: learns from it how the offset steps.
    fn learn_step(&mut self, shift: f32, se: f32) {
        let wander = self.amplifier.factor() * self.estimator.noise().flicker();
        self.steps
            .learn(shift, rss(ROOT_OF_TWO * se, wander), Budget::STEPS_IN_A_STRETCH);
    }

    /// Something has come onto the empty pan: learns from how far it had drifted while it lay there. Just after power-on that tells how fast this
    /// cell warms up.
    pub(super) fn learn_drift(&mut self) {
        let Some([(first, strain), (last, strained)]) = self.lying.end() else {
            return;
        };
        let conditions = self.conditions().of_any_unit();
        let strained = strained - strain;
        let shift = self.calibration.mass(last.level(), first.level()) - self.creep.error(strained);
        let noise = rss(
            rss(first.se(), last.se()),
            self.amplifier.factor() * self.estimator.noise().flicker(),
        );
        let own = wander(first.at(), last.at(), &conditions);
        self.restless
            .learn(shift, noise * conditions.mg_per_count, rss(own, self.creep.u(strained)));
    }

    /// What a steady level says of the pan: nothing yet, or what it is now.
    pub(super) fn pan_state(&self, level: SteadyLevel, gross: f32, age: usize, now: Instant) -> Option<PanState> {
        // What a cold or warm start does to a zero is in proportion to the cell, not to what the scale makes of it.
        let rated = rated(self.calibration.mg_per_count(), self.capacity);
        if !self.zero.now().proven {
            if !Zero::can_be_first(gross, rated) {
                return Some(PanState::Loaded);
            }
            let stands = age >= FIRST_STANDS && self.estimator.noise().is_learnt();
            return stands.then_some(PanState::Empty);
        }
        // A load that goes on changes by drift and by yarn, which say nothing; but for its end, and for what is below zero.
        if self.steady.is_some() && gross > CLOSE && !self.undecided {
            return if self.zero.is_empty() {
                Some(PanState::Loaded)
            } else {
                Some(self.zero.state())
            };
        }
        // All that is heavier is plainly a load, and that is most of what is weighed.
        if gross > WIDEST * rated {
            return Some(PanState::Loaded);
        }
        let above = |other: FineCounts| self.calibration.mass(level.level(), other);
        let settled = Settled {
            gross,
            above_perhaps: self.zero.perhaps().map(above),
            noise: self.level_noise(level),
            moved: self.moved(level, now),
            gone: self.before - gross,
            rested: age >= RESTED,
            stood: age >= STOOD,
        };
        self.zero.judge(&settled, rated)
    }

    /// What may lie on a pan that is taken for empty at `gross` mg, standard uncertainty in mg. A first zero well above the stored one may have
    /// a rest on it; and where nothing much went off, one may have been hidden by as far as the cell can have moved.
    pub(super) fn doubt(&self, level: SteadyLevel, gross: f32, now: Instant) -> f32 {
        if !self.zero.now().proven {
            return if gross < LEFT_OVER { 0.0 } else { HIDDEN * gross };
        }
        let moved = self.moved(level, now);
        if self.before - gross >= PLAINLY * moved {
            0.0
        } else if self.heaviest > 0.0 {
            moved.max(self.zero.now().doubt)
        } else {
            self.zero.now().doubt
        }
    }

    /// Standard uncertainty of a level against the zero from noise alone, mg.
    pub(super) fn level_noise(&self, level: SteadyLevel) -> f32 {
        let both = rss(level.se(), self.zero.now().se);
        let noise = self.estimator.noise();
        rss(both, self.amplifier.factor() * noise.flicker()) * self.calibration.mg_per_count().abs()
    }

    /// How far the cell's zero can have moved since it was seen, noise included, standard uncertainty in mg.
    pub(super) fn moved(&self, level: SteadyLevel, now: Instant) -> f32 {
        let creep = self.creep.u(self.creep.strain() - self.zero.now().strain);
        rss(self.moved_but_for_creep(level, now), creep)
    }

    /// The same without what creep may have done.
    fn moved_but_for_creep(&self, level: SteadyLevel, now: Instant) -> f32 {
        self.moved_from(self.zero.now(), level, now)
    }

    /// The same since a thing lay alone on the pan as `base` says.
    pub(super) fn moved_since(&self, base: &SteadyLoad, level: SteadyLevel, now: Instant) -> f32 {
        let from = ZeroPoint {
            level: base.level(),
            se: base.se(),
            at: base.at(),
            ..base.zero
        };
        self.moved_from(from, level, now)
    }

    fn moved_from(&self, zero: ZeroPoint, level: SteadyLevel, now: Instant) -> f32 {
        let load = SteadyLoad {
            level,
            noise: self.estimator.noise().sigma(),
            zero: ZeroPoint { doubt: 0.0, ..zero },
            since: now,
            strain: self.creep.strain(),
        };
        Budget::reading(&load, self.heaviest, 0.0, &self.conditions().of_any_unit()).combined()
    }

    /// As far as the zero of an empty pan is followed in a tick, mg: as fast as any cell warms up at this age (0.05 % of its rated load,
    /// at the steepest that a time constant can make it then: a share of e^-1 over the age), and a room that changes by some degrees an hour.
    pub(super) fn pace(&self, now: Instant) -> f32 {
        let minutes = (now.since(self.on_since).0 as f32 / 60_000.0).max(YOUNGEST);
        let rated = rated(self.calibration.mg_per_count(), self.capacity);
        (rated * (WARMING / minutes + ROOM) / TICKS_A_MINUTE).min(TRACKING)
    }

    /// Takes `level` for the empty pan, `doubt` mg of it in doubt, and learns from how far it has moved.
    pub(super) fn empty(&mut self, level: SteadyLevel, doubt: f32) {
        let before = self.zero.now();
        let strain = self.creep.strain();
        if before.proven && self.heaviest > 0.0 {
            let shift = self.calibration.mass(level.level(), before.level);
            let strained = strain - before.strain;
            let u = self.moved_but_for_creep(level, level.at());
            let noise = rss(level.se(), before.se) * self.calibration.mg_per_count().abs();
            let own = sqrt((u * u - noise * noise).max(0.0));
            self.restless.learn(
                shift - self.creep.error(strained),
                noise,
                rss(own, self.creep.u(strained)),
            );
            self.creep.learn(shift, strained, u);
        }
        self.zero.capture(level, strain, doubt);
        self.estimator.expect(level.level());
        self.heaviest = 0.0;
        self.before = 0.0;
        self.base = None;
        self.since = None;
        let load = self.load(level, level.at());
        self.steady = Some(load);
        self.display.settle_at(0.0);
        self.show(true);
    }
}

/// Zero tracking, mg a tick, at most: half a division a second (OIML R 76-1, 4.5.7).
const TRACKING: f32 = 5.0;
/// As far as a surer level may take the zero of an empty pan in a tick, mg: the same.
const LEAP: f32 = 5.0;
/// Warming up at the age of a minute, of rated load a minute: 0.08 % over e.
const WARMING: f32 = 3e-4;
/// The room, of rated load a minute: 0.005 % a kelvin, and the cell follows a step of 4.5 K in a quarter of an hour.
const ROOM: f32 = 1.5e-5;
/// Age below which warming up is not yet followed faster, minutes.
const YOUNGEST: f32 = 0.2;
const TICKS_A_MINUTE: f32 = 600.0;
/// Ticks that a first level stands before it is taken for the empty pan's: what still rings looks steady for a moment.
const FIRST_STANDS: usize = 10;
/// Ticks that a level below zero has to stand (OIML R 76-1, 4.5.6: five seconds).
const STOOD: usize = 50;
/// Ticks for which no pull on the strand is held still.
const RESTED: usize = 25;
/// A load that goes on and is lighter than this may be the last of a yarn that has gone, mg: half a division.
const CLOSE: f32 = 50.0;
/// So many times what the cell can have moved plainly was something that went off.
const PLAINLY: f32 = 4.0;
/// A first zero so far above the stored one may be a rest on the pan, mg.
const LEFT_OVER: f32 = 100.0;
/// The part of it that is stated: half, for it is a rest or none, even odds; and half as much again, for the stored zero is not that of now, and a
/// rest is heavier than it seems as often as lighter.
const HIDDEN: f32 = 0.75;
/// Heavier than this share of the cell's rated load is no empty pan.
const WIDEST: f32 = 1e-3;
/// Of two means alike, their difference.
const ROOT_OF_TWO: f32 = core::f32::consts::SQRT_2;
/// Of the variance of noise in a mean, that in the second difference of three means: 1 + 4 + 1.
const SECOND_DIFFERENCE: f32 = 6.0;
/// Of the variance a root of a decade of a spectrum of 1/f, that in such a difference of neighbouring stretches: 2 x 4 ln 2 / ln 10 for two
/// independent steps, and a fifth more since neighbours lean to opposite sides.
const OF_PINK: f32 = 2.9;
