//! Wool takes water from the air and gives it back: its mass follows the humidity with a lag.

/// A cake of yarn, or anything else that lies on the pan.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Mass at 50 % relative humidity, g.
    pub conditioned_g: f64,
    /// Share of the mass gained per % of relative humidity; 0 for a bowl or a coin.
    pub gain_per_percent: f64,
    /// The humidity to which its water corresponds, %.
    pub soaked_percent: f64,
}

impl Body {
    /// Something that takes no water.
    #[must_use]
    pub fn dry(mass_g: f64) -> Self {
        Self {
            conditioned_g: mass_g,
            gain_per_percent: 0.0,
            soaked_percent: REFERENCE_PERCENT,
        }
    }

    /// Wool that weighs `mass_g` at 50 %, in balance with the air.
    #[must_use]
    pub fn wool(mass_g: f64) -> Self {
        Self {
            gain_per_percent: WOOL_GAIN,
            ..Self::dry(mass_g)
        }
    }

    /// Its mass now, g.
    #[must_use]
    pub fn mass_g(&self) -> f64 {
        self.conditioned_g * (1.0 + self.gain_per_percent * (self.soaked_percent - REFERENCE_PERCENT))
    }

    /// Takes `mass_g` of yarn off it, as damp as it is; never more than there is. Returns what was taken.
    pub fn draw(&mut self, mass_g: f64) -> f64 {
        let before = self.mass_g();
        let taken = mass_g.clamp(0.0, before.max(0.0));
        if before > 0.0 {
            self.conditioned_g *= (before - taken) / before;
        }
        taken
    }

    /// Lets `dt` seconds pass in air of `humidity` %.
    pub fn pass(&mut self, humidity: f64, dt: f64) {
        if self.gain_per_percent > 0.0 {
            self.soaked_percent += (humidity - self.soaked_percent) * -(-dt / SOAKING_S).exp_m1();
        }
    }
}

/// 0.2 % of the mass per % of relative humidity near 50 % (engineering assumption, close to published wool isotherms).
const WOOL_GAIN: f64 = 0.002;
/// Six hours for a loose cake (engineering assumption).
const SOAKING_S: f64 = 6.0 * 3_600.0;
const REFERENCE_PERCENT: f64 = 50.0;
