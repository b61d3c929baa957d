//! The room: temperature and humidity that wander by themselves or are set, and the cell that follows the air slowly.

use super::cell::Relaxation;
use super::random::Stream;

/// Air and the cell's own temperature.
#[derive(Clone, Debug)]
pub struct Room {
    /// Set point of the air, degrees Celsius.
    pub celsius: f64,
    /// Relative humidity, %.
    pub humidity: f64,
    wander_k: f64,
    wandering: bool,
    cell_excess: Relaxation,
    owed_s: f64,
    random: Stream,
}

impl Room {
    /// A room at 20 degrees and 50 % whose temperature wanders by itself.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        let mut random = Stream::new(seed, 3);
        Self {
            celsius: CALIBRATED_AT,
            humidity: 50.0,
            wander_k: WANDER_K * random.normal(),
            wandering: true,
            cell_excess: Relaxation::new(CELL_S),
            owed_s: 0.0,
            random,
        }
        .soaked()
    }

    /// A room that stays exactly as it is set.
    #[must_use]
    pub fn constant() -> Self {
        Self {
            wander_k: 0.0,
            wandering: false,
            ..Self::new(0)
        }
        .soaked()
    }

    /// Air temperature now, degrees Celsius.
    #[must_use]
    pub fn air_celsius(&self) -> f64 {
        self.celsius + self.wander_k
    }

    /// The cell's temperature above that at which it was calibrated, K.
    #[must_use]
    pub fn cell_warmer_k(&self) -> f64 {
        self.cell_excess.level
    }

    /// Lets `dt` seconds pass.
    pub fn pass(&mut self, dt: f64) {
        self.owed_s += dt;
        if self.owed_s < STRIDE_S {
            return;
        }
        let dt = core::mem::take(&mut self.owed_s);
        if self.wandering {
            let keep = (-dt / WANDER_S).exp();
            self.wander_k = self.wander_k * keep + WANDER_K * (1.0 - keep * keep).sqrt() * self.random.normal();
        }
        self.cell_excess.pass(self.air_celsius() - CALIBRATED_AT, dt);
    }

    fn soaked(mut self) -> Self {
        self.cell_excess.level = self.air_celsius() - CALIBRATED_AT;
        self
    }
}

/// Temperature of every calibration, degrees Celsius.
const CALIBRATED_AT: f64 = 20.0;
/// Standard deviation and correlation time of the wandering: 1.2 K rms in an hour, 2.2 K in four (engineering assumption).
const WANDER_K: f64 = 2.5;
const WANDER_S: f64 = 8.4 * 3_600.0;
/// The cell follows the air with this time constant, s (engineering assumption).
const CELL_S: f64 = 900.0;
/// The room is moved on in steps of this, s: nothing in it is faster.
const STRIDE_S: f64 = 1.0;
