//! The load cell: what its output departs from the force on it by. Slow; works in grams of output at small loads.
//!
//! - Creep: two relaxing elements, 35 % fast and 65 % slow, scaled so that their sum after 30 min is the unit's figure;
//!   on unloading they relax back (recovery).
//! - Hysteresis: twelve play elements of equal weight with half-widths spread over half the rated load (a Prandtl-Ishlinskii sum:
//!   it remembers its turning points and closes its loops, as a cell does). It counts from the ascending branch of an exercised cell,
//!   as data sheets do: what is not straight in that branch is the bow.
//! - Bow: a parabola through no load and rated load.
//! - Temperature: zero and span, against the cell's own temperature; warm-up after power-on.
//!
//! Model forms are engineering assumptions; the figures stand in [`Unit`].

use super::unit::Unit;

/// The state of one cell.
#[derive(Clone, Debug)]
pub(crate) struct Cell {
    creep: [Relaxation; 2],
    play: [f64; PLAYS],
    hysteresis: f64,
    last_load: f64,
    warm: Relaxation,
}

/// What acts on a cell besides its load.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Surroundings {
    /// The cell's temperature above that of its calibration, K.
    pub(crate) warmer_k: f64,
    /// Excitation is on (it warms the cell).
    pub(crate) powered: bool,
}

impl Cell {
    /// A rested, cold, unloaded cell that has been loaded to its rating before.
    #[must_use]
    pub(crate) fn new(unit: &Unit) -> Self {
        Self {
            creep: unit.creep_s.map(Relaxation::new),
            play: core::array::from_fn(|index| half_width(unit, index)),
            hysteresis: 0.0,
            last_load: 0.0,
            warm: Relaxation::new(unit.warm_up_s),
        }
    }

    /// Lets `dt` seconds pass with `load` grams on; after it, [`Cell::departure`] tells the output.
    pub(crate) fn pass(&mut self, unit: &Unit, load: f64, dt: f64, around: Surroundings) {
        for element in &mut self.creep {
            element.pass(load, dt);
        }
        self.warm.pass(if around.powered { 1.0 } else { 0.0 }, dt);
        if load.to_bits() != self.last_load.to_bits() {
            self.last_load = load;
            let mut apart = 0.0;
            for (index, play) in self.play.iter_mut().enumerate() {
                let half = half_width(unit, index);
                *play = play.clamp(load - half, load + half);
                apart += *play - half.max(load - half);
            }
            self.hysteresis = play_weight(unit) * apart;
        }
    }

    /// Output less load, g, for a load of `load` grams now.
    #[must_use]
    pub(crate) fn departure(&self, unit: &Unit, load: f64, around: Surroundings) -> f64 {
        let capacity = unit.cell_capacity_g;
        let part = load / capacity;
        self.creep(unit)
            + self.hysteresis
            + unit.bow * capacity * 4.0 * part * (1.0 - part)
            + unit.zero_per_10k * capacity * around.warmer_k / 10.0
            + unit.span_per_10k * load * around.warmer_k / 10.0
            + unit.warm_up * capacity * self.warm.level
    }

    /// The part of the departure that is creep, g.
    #[must_use]
    pub(crate) fn creep(&self, unit: &Unit) -> f64 {
        let [fast, slow] = &self.creep;
        let scale = unit.creep
            / FAST_AND_SLOW
                .iter()
                .zip(&unit.creep_s)
                .map(|(share, tau)| share * (1.0 - (-1_800.0 / tau).exp()))
                .sum::<f64>();
        scale * (FAST_AND_SLOW[0] * fast.level + FAST_AND_SLOW[1] * slow.level)
    }
}

/// Counts a gram that a careful owner finds with `mass` grams on a rested cell, without noise; the zero is the unit's own.
#[must_use]
pub(crate) fn calibrated_counts_per_g(unit: &Unit) -> f64 {
    let mut cell = Cell::new(unit);
    let around = Surroundings::default();
    cell.pass(unit, unit.calibration_g, 0.0, around);
    unit.counts_per_g * (1.0 + cell.departure(unit, unit.calibration_g, around) / unit.calibration_g)
}

/// Counts of a rested cell under `grams`, without noise, at `warmer_k` above the 20 degrees for which it was made.
#[must_use]
pub fn rested_counts(unit: &Unit, grams: f64, warmer_k: f64) -> f64 {
    let mut cell = Cell::new(unit);
    let around = Surroundings {
        warmer_k,
        powered: false,
    };
    cell.pass(unit, grams, 0.0, around);
    unit.zero_counts + unit.counts_per_g * (grams + cell.departure(unit, grams, around))
}

/// A first-order lag.
#[derive(Clone, Debug)]
pub(crate) struct Relaxation {
    pub(crate) level: f64,
    tau: f64,
    dt: f64,
    share: f64,
}

impl Relaxation {
    pub(crate) fn new(tau: f64) -> Self {
        Self {
            level: 0.0,
            tau,
            dt: 0.0,
            share: 0.0,
        }
    }

    /// Moves towards `target` for `dt` seconds; the exponential is kept while `dt` stays the same.
    pub(crate) fn pass(&mut self, target: f64, dt: f64) {
        if dt.to_bits() != self.dt.to_bits() {
            self.dt = dt;
            self.share = -(-dt / self.tau).exp_m1();
        }
        self.level += (target - self.level) * self.share;
    }
}

fn half_width(unit: &Unit, index: usize) -> f64 {
    0.5 * unit.cell_capacity_g * (index as f64 + 0.5) / PLAYS as f64
}

/// At half load, a loop from no load to rated load parts the plays by a quarter of the rated load in the mean.
fn play_weight(unit: &Unit) -> f64 {
    4.0 * unit.hysteresis / PLAYS as f64
}

const PLAYS: usize = 12;
const FAST_AND_SLOW: [f64; 2] = [0.35, 0.65];
