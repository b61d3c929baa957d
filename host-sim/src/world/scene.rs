//! The world put together: virtual time, conversion by conversion.
//!
//! While nothing moves, a conversion is computed from its load at once; while something does, forces, platform and filter are stepped
//! through in 1 to 2 ms. An hour at rest is therefore cheap, and a hand is not.

use yarn_scale_core::converter::SampleRate;

use super::cell::{Cell, Surroundings, calibrated_counts_per_g};
use super::disturbance::Disturbance;
use super::fault::DigitalFault;
use super::filter::{Filter, Weights};
use super::hand::Hand;
use super::noise::Noise;
use super::pan::Pan;
use super::platform::Platform;
use super::random::Stream;
use super::room::Room;
use super::supply::Supply;
use super::truth::{Calibration, Conversion, Truth};
use super::unit::Unit;

/// A scale on a table in a room.
#[derive(Clone, Debug)]
pub struct World {
    /// The room, to be changed at will.
    pub room: Room,
    /// The battery, to be changed at will.
    pub supply: Supply,
    /// The converter's wires are in place.
    pub connected: bool,
    unit: Unit,
    period_s: f64,
    pub(super) now: f64,
    powered: bool,
    cell: Cell,
    platform: Platform,
    filter: Filter,
    weights: Weights,
    steps: Vec<f64>,
    noise: Noise,
    pub(super) pan: Pan,
    pub(super) hands: Vec<Hand>,
    pub(super) disturbances: Vec<Disturbance>,
    pub(super) faults: Vec<(f64, DigitalFault)>,
    spoiling: Option<(DigitalFault, u8)>,
    pub(super) random: Stream,
}

impl World {
    /// A unit in a room, powered on this instant, pan empty. Everything random in it comes from the unit's seed.
    #[must_use]
    pub fn new(unit: Unit, rate: SampleRate, room: Room) -> Self {
        let period_s = unit.period_s(rate);
        let steps = (period_s / 0.001_5).ceil().max(8.0);
        let mut world = Self {
            room,
            supply: Supply::battery(1_000.0),
            connected: true,
            period_s,
            now: 0.0,
            powered: true,
            cell: Cell::new(&unit),
            platform: Platform::new(&unit, period_s / steps),
            filter: Filter::default(),
            weights: Weights::new(steps as usize),
            steps: vec![0.0; steps as usize],
            noise: Noise::of(&unit, rate),
            pan: Pan::default(),
            hands: Vec::new(),
            disturbances: Vec::new(),
            faults: Vec::new(),
            spoiling: None,
            random: Stream::new(unit.seed, 4),
            unit,
        };
        world.filter = Filter::settled(world.counts(0.0, 0.0));
        world
    }

    /// The unit.
    #[must_use]
    pub fn unit(&self) -> &Unit {
        &self.unit
    }

    /// Its calibration at 20 degrees, without noise.
    #[must_use]
    pub fn calibration(&self) -> Calibration {
        Calibration {
            zero_counts: self.unit.zero_counts,
            counts_per_g: calibrated_counts_per_g(&self.unit),
        }
    }

    /// World time, s.
    #[must_use]
    pub fn now(&self) -> f64 {
        self.now
    }

    /// Seconds from one conversion to the next.
    #[must_use]
    pub fn period_s(&self) -> f64 {
        self.period_s
    }

    /// When the next conversion is ready, world seconds; never while the converter is off or disconnected.
    #[must_use]
    pub fn next_due(&self) -> Option<f64> {
        (self.powered && self.connected).then_some(self.now + self.period_s)
    }

    /// True mass on the pan now, g.
    #[must_use]
    pub fn load_g(&self) -> f64 {
        self.pan.mass_g(self.now)
    }

    /// What lies on the pan.
    #[must_use]
    pub fn pan(&self) -> &Pan {
        &self.pan
    }

    /// Switches cell and converter on or off. Switched on, the filter fills from nothing: its first words are wrong.
    pub fn power(&mut self, on: bool) {
        if on && !self.powered {
            self.filter = Filter::default();
            self.platform.rest(self.pan.force(self.now));
        }
        self.powered = on;
    }

    /// True while cell and converter are on.
    #[must_use]
    pub fn is_powered(&self) -> bool {
        self.powered
    }

    /// The converter runs through to its next conversion. `None` while it is off or disconnected; then no time passes.
    pub fn convert(&mut self) -> Option<Conversion> {
        let to = self.next_due()?;
        let from = self.now;
        self.pass_slow(to);
        let (clean_counts, other_g) = self.measure(from, to);
        let load_g = self.pan.mass_g(to);
        let settled_counts = self.counts(load_g, load_g);
        let noisy = clean_counts + self.noise.draw();
        let word = noisy.round().clamp(-8_388_608.0, 8_388_607.0) as i32;
        let (raw, fault) = self.arrive(word);
        Some(Conversion {
            at: to,
            raw,
            truth: Truth {
                load_g,
                other_g,
                clean_counts,
                settled_counts,
                creep_g: self.cell.creep(&self.unit),
                word,
                fault,
            },
        })
    }

    /// Runs to `until`, world seconds, and hands over each conversion on the way. Days without power pass quickly.
    pub fn advance(&mut self, until: f64, mut each: impl FnMut(Conversion)) {
        loop {
            match self.next_due() {
                Some(due) if due <= until => {
                    if let Some(conversion) = self.convert() {
                        each(conversion);
                    }
                }
                Some(_) => return,
                None => {
                    while self.now < until {
                        let to = until.min(self.now + STRIDE_S);
                        self.pass_slow(to);
                        let force = self.pan.force(to);
                        self.platform.rest(force);
                    }
                    return;
                }
            }
        }
    }

    /// The slow things: room, wool, battery, creep.
    fn pass_slow(&mut self, to: f64) {
        let dt = to - self.now;
        self.room.pass(dt);
        self.pan.pass(self.now, to, self.room.humidity);
        self.supply.pass(if self.powered { AWAKE_MA } else { 0.0 }, dt);
        if !self.powered || !self.connected {
            let force = self.pan.force(to);
            self.cell.pass(&self.unit, force, dt, self.surroundings());
        }
        self.now = to;
    }

    /// Forces, platform and filter from one conversion to the next: its noise-free counts, and the force beside the load at its end.
    fn measure(&mut self, from: f64, to: f64) -> (f64, f64) {
        let dt = to - from;
        self.hands.retain(|hand| hand.span().1 > from);
        self.disturbances.retain(|disturbance| disturbance.span().1 > from);
        let steady = self.pan.force(to);
        let moving = self.pan.is_changing(from, to)
            || self.hands.iter().any(|hand| hand.span().0 < to)
            || self.disturbances.iter().any(|disturbance| disturbance.span().0 < to)
            || !self.platform.is_still(steady);
        if !moving {
            self.platform.rest(steady);
            self.cell.pass(&self.unit, steady, dt, self.surroundings());
            let counts = self.counts(steady, steady);
            return (self.filter.hold(counts), 0.0);
        }
        let step = dt / self.steps.len() as f64;
        let stop = MECHANICAL_STOP * self.unit.cell_capacity_g;
        let mut other = 0.0;
        let mut sum = 0.0;
        for index in 0..self.steps.len() {
            let t = from + step * (index + 1) as f64;
            let lying = self.pan.force(t);
            other = self.other_force(t, step, lying);
            let deflection = self.platform.step(lying + other, self.is_held(t)).clamp(-stop, stop);
            sum += deflection;
            self.steps[index] = deflection;
        }
        let mean = sum / self.steps.len() as f64;
        self.cell.pass(&self.unit, mean, dt, self.surroundings());
        let departure = self.counts(mean, 0.0);
        for deflection in &mut self.steps {
            *deflection = departure + self.unit.counts_per_g * *deflection;
        }
        (self.filter.steps(&self.weights, &self.steps), other)
    }

    /// True while a hand is in touch with the pan or its load.
    fn is_held(&self, t: f64) -> bool {
        self.hands.iter().any(|hand| {
            let (from, to) = hand.span();
            from < t && t <= to
        })
    }

    /// Counts for a deflection of `grams` while the cell departs from truth as it does under `load`.
    fn counts(&self, load: f64, grams: f64) -> f64 {
        let departure = self.cell.departure(&self.unit, load, self.surroundings());
        self.unit.zero_counts + self.unit.counts_per_g * (grams + departure)
    }

    /// Force of hands and disturbances at `t`, g.
    fn other_force(&mut self, t: f64, dt: f64, lying: f64) -> f64 {
        let hands: f64 = self
            .hands
            .iter_mut()
            .map(|hand| hand.force(t, dt, &mut self.random))
            .sum();
        let shaken = self.unit.platform_g + lying;
        let begun = self.disturbances.iter().filter(|d| d.span().0 <= t);
        hands + begun.map(|d| d.force(t, shaken)).sum::<f64>()
    }

    /// The word as it arrives.
    fn arrive(&mut self, word: i32) -> (Option<i32>, Option<DigitalFault>) {
        if self.spoiling.is_none()
            && let Some(due) = self.faults.iter().position(|(at, _)| *at <= self.now)
        {
            self.spoiling = Some((self.faults.swap_remove(due).1, 0));
        }
        let Some((fault, nth)) = self.spoiling else {
            return (Some(word), None);
        };
        self.spoiling = (nth + 1 < fault.words()).then_some((fault, nth + 1));
        (fault.spoil(word, nth), Some(fault))
    }

    fn surroundings(&self) -> Surroundings {
        Surroundings {
            warmer_k: self.room.cell_warmer_k(),
            powered: self.powered,
        }
    }
}

/// Time without conversions passes in steps of this, s.
const STRIDE_S: f64 = 60.0;
/// Current of the scale while awake, mA (engineering assumption; the power budget is kept elsewhere).
const AWAKE_MA: f64 = 25.0;
/// The cell's stop, share of its rated load (common practice, no source).
const MECHANICAL_STOP: f64 = 1.5;
