//! Calibration with known masses or coins: empty pan, one load or more, proof, and only then the change.
//!
//! The pan is seen empty before and after each load: that takes the drift of a cell that is still warming up out, and finds
//! what lay on the pan when it was called empty. A load that was pressed down is put down again: a cell remembers the press.
//!
//! One mass cannot see the bow of a cell; put into any cup, it can. Rounds of cup, mass in the cup and mass alone are asked for until the
//! readings are worth their part of half a division at 300 g.
//!
//! The calibration in use stays until the new one is proven, accepted and in the journal. Leaving at any step changes
//! nothing.

mod checks;
mod press;
mod view;

use heapless::Vec;

use self::checks::{Check, Checks};
use super::context::Context;
use super::highlight::Highlight;
use crate::measured::Measured;
use crate::units::{FineCounts, Milligrams};
use crate::weighing::{Calibration, MOST_POINTS, Point, Proof};

/// The empty pan may move by a fiftieth of a load while that comes and goes: a cell that warms up moves by less.
const MOST_MOVED: u32 = 50;

/// What the readings may leave open at 300 g, standard uncertainty in mg: 99 in 100 below half a division along with a mass of class M1.
const ENOUGH: f32 = 13.0;

/// Points of another round with the cup.
const ROUND: usize = 3;

const NOTHING: Measured = Measured {
    value: Milligrams::ZERO,
    u: 0.0,
};

/// A calibration under way.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Calibrating {
    points: Vec<Point, MOST_POINTS>,
    checks: Checks,
    /// The empty pan as it was last seen.
    zero: FineCounts,
    /// The last mass that was told.
    load: Measured,
    stage: Stage,
}

/// Where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    EmptyPan,
    WhatNext { highlight: Highlight },
    Mass { grams_tenths: i32 },
    WhichCoin { highlight: Highlight },
    HowMany { coin: u8, count: u8 },
    PutOn(On),
    Lift { on: On, level: FineCounts, gentle: bool },
    Checking(Check),
    Proven { proof: Proof },
}

/// The list of what can follow, from its top.
const WHAT_NEXT: Stage = Stage::WhatNext {
    highlight: Highlight(0),
};

/// What is put on the pan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum On {
    /// The mass, once.
    Mass,
    /// The mass between two cups.
    MassAgain,
    /// A cup.
    Cup,
    /// The mass on top of a cup that gave this level.
    WithCup(FineCounts),
}

impl On {
    /// With what it begins anew.
    const fn first(self) -> Self {
        match self {
            Self::WithCup(_) => Self::Cup,
            Self::Mass | Self::MassAgain | Self::Cup => self,
        }
    }
}

/// What can follow once the empty pan is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    KnownMass,
    Coins,
    Cup,
    Repeat,
    Corners,
    Prove,
}

impl Calibrating {
    pub(in crate::ui) fn new() -> Self {
        Self {
            points: Vec::new(),
            checks: Checks::default(),
            zero: FineCounts(0),
            load: NOTHING,
            stage: Stage::EmptyPan,
        }
    }

    fn deeds(&self) -> Vec<Deed, 6> {
        let loaded = self.points.len() > 1;
        let more = !self.points.is_full();
        let round = self.has_room_for_a_round();
        let offered = [
            (Deed::Prove, loaded),
            (Deed::Cup, loaded && round),
            (Deed::KnownMass, more),
            (Deed::Coins, more),
            (Deed::Repeat, loaded),
            (Deed::Corners, loaded),
        ];
        offered
            .into_iter()
            .filter(|&(_, offered)| offered)
            .map(|(deed, _)| deed)
            .collect()
    }

    fn has_room_for_a_round(&self) -> bool {
        MOST_POINTS.saturating_sub(self.points.len()) >= ROUND
    }

    /// Takes a load once it is lifted and the pan is seen `empty` again. `false` if the pan was not empty before or is not
    /// now. A load that was not put down gently leaves no point.
    fn lifted(&mut self, on: On, level: FineCounts, gentle: bool, empty: FineCounts) -> bool {
        let before = core::mem::replace(&mut self.zero, empty);
        let moved = empty.0.saturating_sub(before.0);
        if moved.unsigned_abs() > level.0.abs_diff(before.0) / MOST_MOVED {
            return false;
        }
        if !gentle {
            return true;
        }
        if let On::WithCup(alone) = on {
            self.take(NOTHING, true, alone, before.0.saturating_add(moved / 3));
            self.take(self.load, true, level, empty.0.saturating_sub(moved / 3));
        } else {
            self.take(self.load, false, level, before.0.saturating_add(moved / 2));
        }
        true
    }

    fn take(&mut self, load: Measured, cup: bool, level: FineCounts, zero: i32) {
        let first = self.points.first().map_or(FineCounts(zero), |point| point.level);
        // Not offered once it is full.
        let _ = self.points.push(Point {
            load: load.value,
            cup,
            u: load.u,
            level: FineCounts(first.0.saturating_add(level.0.saturating_sub(zero))),
        });
    }

    /// What follows once the pan is empty again after `on`.
    fn after(&self, context: &Context<'_>, on: On) -> Stage {
        let open = |proof: Proof| proof.u_reading > ENOUGH;
        match on {
            On::MassAgain => Stage::PutOn(On::Cup),
            On::WithCup(_)
                if self.has_room_for_a_round()
                    && Calibration::prove(&self.points, context.capacity).is_ok_and(open) =>
            {
                Stage::PutOn(On::MassAgain)
            }
            On::Mass | On::Cup | On::WithCup(_) => WHAT_NEXT,
        }
    }

    /// What the pan would say by the points so far; good enough for the spread of a check.
    fn mg_per_count(&self, context: &Context<'_>) -> f32 {
        Calibration::prove(&self.points, context.capacity).map_or(context.scale.calibration().mg_per_count(), |proof| {
            proof.calibration.mg_per_count()
        })
    }
}
