//! Pan on cell: a damped oscillator. What the cell feels is not the force on the pan but the pan's deflection.
//!
//! A hand that touches the pan, or what lies on it, damps it: the platform rings only once it has been let go.

use core::f64::consts::TAU;

use super::unit::Unit;

/// The platform's motion, in grams of static deflection.
#[derive(Clone, Debug)]
pub(crate) struct Platform {
    position: f64,
    velocity: f64,
    free: Propagator,
    held: Propagator,
}

/// Position and velocity after a step from position and velocity before it, about the force that stands in the step.
type Propagator = [[f64; 2]; 2];

impl Platform {
    /// At rest without load; `dt` is the time of one step, s.
    #[must_use]
    pub(crate) fn new(unit: &Unit, dt: f64) -> Self {
        let held = (unit.damping + HAND_DAMPING).min(0.9);
        Self {
            position: 0.0,
            velocity: 0.0,
            free: propagator(unit.resonance_hz, unit.damping, dt),
            held: propagator(unit.resonance_hz, held, dt),
        }
    }

    /// One step under `force`, a hand on it or not; returns the deflection after it.
    pub(crate) fn step(&mut self, force: f64, held: bool) -> f64 {
        let step = if held { &self.held } else { &self.free };
        let (x, v) = (self.position - force, self.velocity);
        self.position = force + step[0][0] * x + step[0][1] * v;
        self.velocity = step[1][0] * x + step[1][1] * v;
        self.position
    }

    /// True if nothing is left of any ringing about `force`.
    #[must_use]
    pub(crate) fn is_still(&self, force: f64) -> bool {
        (self.position - force).abs() < STILL_G && self.velocity.abs() < STILL_G * 100.0
    }

    /// Puts it to rest under `force`.
    pub(crate) fn rest(&mut self, force: f64) {
        self.position = force;
        self.velocity = 0.0;
    }
}

/// The exact solution of x'' + 2 zeta omega x' + omega^2 x = 0 over `dt`, for zeta below 1.
fn propagator(hz: f64, zeta: f64, dt: f64) -> Propagator {
    let omega = TAU * hz;
    let decay = zeta * omega;
    let damped = omega * (1.0 - zeta * zeta).sqrt();
    let (s, c) = (damped * dt).sin_cos();
    let e = (-decay * dt).exp();
    [
        [e * (c + decay / damped * s), e * s / damped],
        [-e * omega * omega / damped * s, e * (c - decay / damped * s)],
    ]
}

/// Damping ratio that a hand adds (engineering assumption).
const HAND_DAMPING: f64 = 0.4;
/// A tenth of a count on the finer cell.
const STILL_G: f64 = 2e-5;
