//! Where the empty pan stands: at power-on, at every emptying, tracked only while the pan is known to be empty.
//!
//! A thing is not a drift. What lies on the pan can be told from a shifted zero only by how a level came about, so a level is taken for
//! the empty pan
//! - at power-on, once it has stood, if it is within 0.1 % of the cell's rated load of the stored zero;
//! - if the noise cannot tell it from the zero that is known;
//! - when a load has gone off, if it is no farther than a tenth of a gram, than the cell can have moved by then, and than a small part of
//!   what went off: yarn that was knitted down to a rest goes in small steps;
//! - below zero always, for nothing weighs less than nothing; if it is lower than a cell's zero moves, once it has stood for five seconds.
//!
//! A level that may be either, the empty pan of a cell that has moved or a rest, is left undecided ([`PanState::Perhaps`]) until a press says so or
//! the level itself does: gone by a step, it was a rest; the same again after another load, it belongs to the pan.

use crate::math::rss;
use crate::signal::SteadyLevel;
use crate::units::{FineCounts, Instant};
use crate::weighing::load::ZeroPoint;

/// What is known of the pan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum PanState {
    /// It is empty.
    Empty,
    /// It is empty, and the cell's zero has moved; or something small lies on it.
    Perhaps,
    /// Something lies on it, or that is unknown.
    Loaded,
}

/// A level that has settled, as a zero is judged by it: all in mg.
#[derive(Clone, Copy, Debug)]
pub(super) struct Settled {
    /// Above the zero in force.
    pub gross: f32,
    /// Above the level that was [`PanState::Perhaps`] the empty pan before the load that has just gone off, if there was one.
    pub above_perhaps: Option<f32>,
    /// Standard uncertainty of the difference of the two levels from noise alone.
    pub noise: f32,
    /// How far the cell can have moved since the zero was seen, noise included, standard uncertainty.
    pub moved: f32,
    /// What has gone off since the level was last steady.
    pub gone: f32,
    /// It has stood for longer than a pull lasts,
    pub rested: bool,
    /// and for the five seconds of OIML R 76-1, 4.5.6.
    pub stood: bool,
}

/// The zero now, whether the pan is known to be empty, and when it was found empty before.
#[derive(Clone, Debug)]
pub(super) struct Zero {
    now: ZeroPoint,
    initial: FineCounts,
    state: PanState,
    /// The last level that may have been the empty pan.
    perhaps: Option<FineCounts>,
    /// Ticks that the level followed last is the mean of.
    ticks: u16,
    /// What may have lain on the pan when it was found empty, mg.
    doubt: f32,
    found: heapless::Deque<ZeroPoint, REMEMBERED>,
}

impl Zero {
    /// The stored zero, not proven.
    #[must_use]
    pub(super) const fn stored(level: FineCounts) -> Self {
        Self {
            now: ZeroPoint {
                level,
                se: 0.0,
                at: Instant(0),
                strain: 0.0,
                doubt: 0.0,
                cooled: 0.0,
                proven: false,
            },
            initial: level,
            state: PanState::Loaded,
            perhaps: None,
            ticks: 0,
            doubt: 0.0,
            found: heapless::Deque::new(),
        }
    }

    /// The zero in force.
    #[must_use]
    pub(super) const fn now(&self) -> ZeroPoint {
        self.now
    }

    /// The zero at power-on, about which a press may set it anew.
    #[must_use]
    pub(super) const fn initial(&self) -> FineCounts {
        self.initial
    }

    /// Whether the pan is known to be empty now.
    #[must_use]
    pub(super) const fn is_empty(&self) -> bool {
        matches!(self.state, PanState::Empty)
    }

    /// What is known of the pan.
    #[must_use]
    pub(super) const fn state(&self) -> PanState {
        self.state
    }

    /// The last level that may have been the empty pan.
    #[must_use]
    pub(super) const fn perhaps(&self) -> Option<FineCounts> {
        self.perhaps
    }

    /// The first empty pan that was found after `at`, if it is still remembered.
    #[must_use]
    pub(super) fn found_after(&self, at: Instant) -> Option<ZeroPoint> {
        self.found.iter().find(|point| point.at > at).copied()
    }

    /// Takes the steady level as the empty pan's, under a creep strain of `strain` mg; `doubt` mg is what may lie on it nevertheless,
    /// standard uncertainty.
    pub(super) fn capture(&mut self, steady: SteadyLevel, strain: f32, doubt: f32) {
        if !self.now.proven {
            self.initial = steady.level();
        }
        self.now = ZeroPoint {
            level: steady.level(),
            se: steady.se(),
            at: steady.at(),
            strain,
            doubt,
            cooled: 0.0,
            proven: true,
        };
        self.doubt = doubt;
        self.state = PanState::Empty;
        self.perhaps = None;
        self.ticks = steady.ticks();
        self.remember();
    }

    /// Keeps the zero of now for loads that were weighed before it.
    pub(super) fn remember(&mut self) {
        if self.found.is_full() {
            let _ = self.found.pop_front();
        }
        // There is room: one was just taken off.
        let _ = self.found.push_back(self.now);
    }

    /// Follows the empty pan to `steady`, by at most `farthest` (sixteenths of a count), or by at most `leap` to a level that is the mean
    /// of more ticks than any that was followed before: it is surer than the zero is. Ticks are compared, not standard
    /// errors: those also wander with the noise as it is learnt, and every new least one would look like news of the level. `behind` mg is how
    /// far the level is off but for noise: the zero has moved, or a thing lies there; which of both is unknown.
    pub(super) fn track(&mut self, steady: SteadyLevel, strain: f32, farthest: i32, leap: i32, behind: f32) {
        let apart = steady.level().0.saturating_sub(self.now.level.0);
        let farthest = if steady.ticks() > self.ticks {
            leap
        } else {
            // A short mean is mostly noise, and grows soon.
            (farthest.saturating_mul(i32::from(steady.ticks().min(1 << LONG))) >> LONG).max(1)
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
            doubt: rss(self.doubt, BEHIND * behind),
            ..self.now
        };
    }

    /// Follows the empty pan by what a burst of the converter says, an eighth of the way: as sure as the mean of fifteen.
    pub(super) fn glimpsed(&mut self, level: FineCounts, strain: f32, at: Instant) {
        let apart = level.0.saturating_sub(self.now.level.0);
        self.now = ZeroPoint {
            level: FineCounts(self.now.level.0.saturating_add(apart / GLIMPSES)),
            at,
            strain,
            ..self.now
        };
    }

    /// The cell has cooled down unseen, by which its zero may have moved as far as `cooled` mg says, standard uncertainty.
    pub(super) const fn unseen(&mut self, cooled: f32) {
        self.now.cooled = self.now.cooled.max(cooled);
    }

    /// It may have moved by `apart` mg unseen, or not.
    pub(super) fn unsure(&mut self, apart: f32) {
        self.now.doubt = rss(self.now.doubt, BEHIND * apart);
    }

    /// It may have moved unseen.
    pub(super) const fn doubt(&mut self) {
        self.now.proven = false;
        self.state = PanState::Loaded;
        self.perhaps = None;
    }

    /// The same thing lies alone on the pan again, as when its level was `before` under a strain of `strain_before` mg: by as much as it has
    /// moved the zero has moved, too.
    pub(super) fn shift(&mut self, before: SteadyLevel, strain_before: f32, now: SteadyLevel, strain: f32) {
        let by = now.level().0.saturating_sub(before.level().0);
        self.now = ZeroPoint {
            level: FineCounts(self.now.level.0.saturating_add(by)),
            se: rss(before.se(), now.se()),
            at: now.at(),
            strain: self.now.strain + strain - strain_before,
            ..self.now
        };
    }

    /// Something has come onto the pan.
    pub(super) const fn load(&mut self) {
        self.state = PanState::Loaded;
    }

    /// `level`, `gross` mg above the zero, may be the empty pan: whatever stands on this zero is that much in doubt.
    pub(super) fn may_be(&mut self, level: FineCounts, gross: f32) {
        self.state = PanState::Perhaps;
        self.perhaps = Some(level);
        // One or the other, even odds.
        self.now.doubt = 0.5 * gross.abs();
    }

    /// At power-on: whether a level that stands at `gross` mg above the stored zero can be the empty pan of a cell for `rated` mg.
    #[must_use]
    pub(super) fn can_be_first(gross: f32, rated: f32) -> bool {
        gross <= WIDEST * rated && gross >= -(LIFTED * WIDEST * rated)
    }

    /// What a level that is not where the known empty pan is says of the pan; `rated` is the cell's load, mg. `None`: nothing yet.
    #[must_use]
    pub(super) fn judge(&self, level: &Settled, rated: f32) -> Option<PanState> {
        let &Settled {
            gross,
            noise,
            moved,
            gone,
            ..
        } = level;
        let near = (NOISE * noise).clamp(CLOSEST, CLOSE);
        let far = (FARTHEST * moved).max(ASKED).min(WIDEST * rated);
        let belongs = |apart: f32| apart.abs() <= (SURE * moved).clamp(CLOSE, RESTS) && MUCH * apart.abs() <= gone;
        let was_empty = self.is_empty();
        if gross < -near {
            // On the empty pan it may be a finger that lifts it.
            // and on a loaded one a pull on the strand that lifts for a moment, if it is farther than a cell is moved by any load.
            let possible = -(FARTHEST * moved).clamp(RESTS, WIDEST * rated);
            let believed = level.stood || !was_empty && (gross >= -RESTS || level.rested && gross >= possible);
            return believed.then_some(PanState::Empty);
        }
        // A pull on the strand may hold a light thing up.
        if !was_empty && gone < PULL && !level.rested && gross <= far {
            return None;
        }
        let again = level.above_perhaps.is_some_and(|above| gone >= THING && belongs(above));
        Some(if was_empty {
            PanState::Loaded
        } else if gross <= near || belongs(gross) || again {
            PanState::Empty
        } else if gross <= far && (MORE * gross <= gone || self.state == PanState::Perhaps) {
            PanState::Perhaps
        } else {
            PanState::Loaded
        })
    }

    /// Whether a level that has settled `apart` mg from where a thing alone on the pan had been is that thing again, after `gone` mg of
    /// others went off; as for the empty pan.
    #[must_use]
    pub(super) fn is_bare_again(apart: f32, moved: f32, gone: f32) -> bool {
        gone >= THING && apart.abs() <= (SURE * moved).clamp(CLOSE, RESTS) && MUCH * apart.abs() <= gone
    }

    /// Whether the known empty pan still is empty at `gross` mg from its zero; `noise` mg is the standard uncertainty of that.
    #[must_use]
    pub(super) fn still(gross: f32, noise: f32) -> bool {
        gross.abs() <= (STILL * noise).max(CLOSE)
    }
}

/// Standard uncertainty of a zero that may be all the way at a level that it has not followed yet: the end of a 90 % interval.
const BEHIND: f32 = 0.7;
/// Logarithm to the base 2 of the ticks of a mean that is followed as fast as the cell can move.
const LONG: u16 = 6;
/// Bursts over which the empty pan is followed.
const GLIMPSES: i32 = 8;
/// Empty pans that are remembered, for amendments.
const REMEMBERED: usize = 4;
/// Standard uncertainties within which a level cannot be told from the zero by noise;
const NOISE: f32 = 2.5;
/// but at least within this, mg,
const CLOSEST: f32 = 20.0;
/// and at most within half a division, mg.
const CLOSE: f32 = 50.0;
/// Standard uncertainties of the cell's own doing within which an emptied pan is believed,
const SURE: f32 = 3.0;
/// and never beyond this, mg: what people leave on a pan weighs more.
const RESTS: f32 = 110.0;
/// What went off is so many times what is left, for an empty pan to be believed,
const MUCH: f32 = 4.0;
/// for it to be asked about.
const MORE: f32 = 2.0;
/// A level that has been seen before is the pan's if so much has come and gone in between, mg.
const THING: f32 = 500.0;
/// No pull on a strand lifts more than this, mg.
const PULL: f32 = 6_000.0;
/// Standard uncertainties of the cell's own doing within which it is asked about,
const FARTHEST: f32 = 3.5;
/// and at least up to this, mg.
const ASKED: f32 = 300.0;
/// Standard uncertainties by which the mean of the empty pan may be off without being a load.
const STILL: f32 = 5.0;
/// And never beyond this share of the cell's rated load (0.5 g of 500).
const WIDEST: f32 = 1e-3;
/// Downwards a stored zero may be this much farther off: nothing weighs less than nothing.
const LIFTED: f32 = 4.0;
