//! Everything else that shakes or pulls: the strand, steps on the floor, a machine, a wobbling table, a knock, a cat.
//!
//! Statistics are engineering assumptions; nothing here was recorded.

use core::f64::consts::TAU;

use super::hand::ease;
use super::random::Stream;

/// A force on the pan with a beginning and an end, world seconds.
#[derive(Clone, Debug)]
pub enum Disturbance {
    /// A pull on the strand with a tail, then nothing.
    Tug(Tug),
    /// Steps that come and go.
    Footsteps(Steps),
    /// A machine that hums: from, to, amplitude in g on 100 g, Hz.
    Machine([f64; 4]),
    /// A table that rocks and dies away: from, amplitude in g on 100 g, Hz.
    Wobble([f64; 3]),
    /// Something falls on the table: at, peak in g.
    Knock([f64; 2]),
    /// Paws: from, to, force in g for each.
    Cat(Vec<[f64; 3]>),
}

/// One pull on the strand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tug {
    /// It begins.
    pub from: f64,
    /// Seconds to its full force.
    pub rise_s: f64,
    /// Seconds it is held.
    pub hold_s: f64,
    /// Time constant of its tail, s.
    pub tail_s: f64,
    /// Force, g; negative lifts.
    pub force_g: f64,
    /// Relative slow change while held.
    pub sway: f64,
    /// Period of that change, s.
    pub sway_s: f64,
}

/// A person walks by.
#[derive(Clone, Debug)]
pub struct Steps {
    /// Instant and strength of each step, g on 100 g.
    steps: Vec<(f64, f64)>,
    floor_hz: f64,
    floor_damping: f64,
}

impl Tug {
    /// Draws a pull at `from`.
    pub fn draw(from: f64, random: &mut Stream) -> Self {
        let force = random.log_uniform(0.2, 5.0);
        Self {
            from,
            rise_s: random.uniform(0.1, 0.4),
            hold_s: random.log_uniform(0.2, 2.0),
            tail_s: random.uniform(0.1, 0.6),
            // The strand leads up to the knitter's hands more often than along the table.
            force_g: if random.chance(0.75) { -force } else { force },
            sway: random.uniform(0.03, 0.15),
            sway_s: random.uniform(0.4, 1.5),
        }
    }

    /// The tail begins.
    #[must_use]
    pub fn released(&self) -> f64 {
        self.from + self.rise_s + self.hold_s
    }

    /// Its force at `t`, g.
    #[must_use]
    pub fn force(&self, t: f64) -> f64 {
        let sway = 1.0 + self.sway * (TAU * (t - self.from) / self.sway_s).sin();
        let held = self.force_g * ease(t, self.from, self.from + self.rise_s) * sway;
        if t <= self.released() {
            held
        } else {
            held * (-(t - self.released()) / self.tail_s).exp()
        }
    }

    /// The tail has fallen below `grams`.
    #[must_use]
    pub fn gone(&self, grams: f64) -> f64 {
        self.released() + self.tail_s * (self.force_g.abs() * (1.0 + self.sway) / grams).ln().max(0.0)
    }
}

impl Disturbance {
    /// Steps of a person who walks by between `from` and `to`.
    pub fn footsteps(from: f64, to: f64, random: &mut Stream) -> Self {
        let strength = random.log_uniform(0.03, 0.5);
        let pace = random.uniform(0.45, 0.65);
        let (middle, width) = (random.uniform(from, to), 0.5 * (to - from));
        let mut steps = Vec::new();
        let mut t = from;
        while t < to {
            let near = (-((t - middle) / width).powi(2)).exp();
            steps.push((t, strength * near * random.uniform(0.6, 1.4) * random.sign()));
            t += pace * random.uniform(0.9, 1.1);
        }
        Self::Footsteps(Steps {
            steps,
            floor_hz: random.uniform(4.0, 14.0),
            floor_damping: random.uniform(0.03, 0.08),
        })
    }

    /// A machine that runs between `from` and `to`.
    pub fn machine(from: f64, to: f64, random: &mut Stream) -> Self {
        Self::Machine([from, to, random.log_uniform(0.02, 0.5), random.uniform(8.0, 25.0)])
    }

    /// A table that is jogged at `from`.
    pub fn wobble(from: f64, random: &mut Stream) -> Self {
        Self::Wobble([from, random.log_uniform(0.05, 1.0), random.uniform(1.0, 4.0)])
    }

    /// Something falls at `from`.
    pub fn knock(from: f64, random: &mut Stream) -> Self {
        Self::Knock([from, random.log_uniform(20.0, 200.0)])
    }

    /// A cat looks in at `from`.
    pub fn cat(from: f64, random: &mut Stream) -> Self {
        let mut t = from;
        let paws = (0..=random.index(4)).map(|_| {
            let begin = t + random.uniform(0.0, 0.6);
            t = begin + random.uniform(0.2, 1.2);
            [begin, t, random.log_uniform(30.0, 400.0)]
        });
        Self::Cat(paws.collect())
    }

    /// First and last instant at which it matters.
    #[must_use]
    pub fn span(&self) -> (f64, f64) {
        match self {
            Self::Tug(tug) => (tug.from, tug.gone(1e-4)),
            Self::Footsteps(walk) => {
                let first = walk.steps.first().map_or(0.0, |s| s.0);
                (first, walk.steps.last().map_or(0.0, |s| s.0) + STEP_S)
            }
            Self::Machine([from, to, ..]) => (*from, *to),
            Self::Wobble([from, amplitude, hz]) => {
                (*from, from + (amplitude / 1e-4).ln() / (TAU * hz * WOBBLE_DAMPING))
            }
            Self::Knock([at, _]) => (*at, at + KNOCK_S),
            Self::Cat(paws) => (paws.first().map_or(0.0, |p| p[0]), paws.last().map_or(0.0, |p| p[1])),
        }
    }

    /// Its force at `t` on a pan that carries `shaken_g` grams in all, pan included.
    pub fn force(&self, t: f64, shaken_g: f64) -> f64 {
        match self {
            Self::Tug(tug) => tug.force(t),
            Self::Footsteps(walk) => shaken_g / 100.0 * walk.acceleration(t),
            Self::Machine([from, to, amplitude, hz]) => {
                let swell = ease(t, *from, from + 1.0) * (1.0 - ease(t, to - 1.0, *to));
                shaken_g / 100.0 * amplitude * swell * (TAU * hz * t).sin()
            }
            Self::Wobble([from, amplitude, hz]) => {
                let decay = (-TAU * hz * WOBBLE_DAMPING * (t - from)).exp();
                shaken_g / 100.0 * amplitude * decay * (TAU * hz * (t - from)).sin()
            }
            Self::Knock([at, peak]) => peak * (core::f64::consts::PI * ((t - at) / KNOCK_S).clamp(0.0, 1.0)).sin(),
            Self::Cat(paws) => paws
                .iter()
                .map(|[from, to, force]| {
                    force
                        * ease(t, *from, from + 0.1)
                        * (1.0 - ease(t, to - 0.08, *to))
                        * (1.0 + 0.1 * (TAU * 1.7 * t).sin())
                })
                .sum(),
        }
    }
}

impl Steps {
    /// Each step strikes the floor and rings out.
    fn acceleration(&self, t: f64) -> f64 {
        let omega = TAU * self.floor_hz;
        self.steps
            .iter()
            .filter(|(at, _)| t >= *at && t < at + STEP_S)
            .map(|(at, strength)| strength * (-omega * self.floor_damping * (t - at)).exp() * (omega * (t - at)).sin())
            .sum()
    }
}

const STEP_S: f64 = 2.0;
const KNOCK_S: f64 = 0.008;
const WOBBLE_DAMPING: f64 = 0.05;
