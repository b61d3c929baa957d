//! Pan on cell: a damped oscillator. What the cell feels is not the force on the pan but the pan's deflection.

use super::unit::Unit;

/// The platform's motion, in grams of static deflection.
#[derive(Clone, Debug)]
pub(crate) struct Platform {
    position: f64,
    velocity: f64,
    step: [[f64; 2]; 2],
}

impl Platform {
    /// At rest without load; `dt` is the time of one step, s.
    #[must_use]
    pub(crate) fn new(unit: &Unit, dt: f64) -> Self {
        let omega = 2.0 * core::f64::consts::PI * unit.resonance_hz;
        let decay = unit.damping * omega;
        let damped = omega * (1.0 - unit.damping * unit.damping).sqrt();
        let (s, c) = (damped * dt).sin_cos();
        let e = (-decay * dt).exp();
        // Exact solution of x'' + 2 decay x' + omega^2 x = 0 over dt, about the force as it stands in that step.
        let step = [
            [e * (c + decay / damped * s), e * s / damped],
            [-e * omega * omega / damped * s, e * (c - decay / damped * s)],
        ];
        Self {
            position: 0.0,
            velocity: 0.0,
            step,
        }
    }

    /// One step under `force`; returns the deflection after it.
    pub(crate) fn step(&mut self, force: f64) -> f64 {
        let (x, v) = (self.position - force, self.velocity);
        self.position = force + self.step[0][0] * x + self.step[0][1] * v;
        self.velocity = self.step[1][0] * x + self.step[1][1] * v;
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

/// A tenth of a count on the finer cell.
const STILL_G: f64 = 2e-5;
