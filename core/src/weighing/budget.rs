//! What the uncertainty of a weighing is made of (GUM, JCGM 100:2008, clause 5: independent contributions combine by the root sum of
//! squares). Every entry is a standard uncertainty in milligrams.

use crate::math::sqrt;

/// Contributions to one reading or one difference, mg, k = 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Budget {
    /// Rounding inside the device: value to a milligram, level to a sixteenth of a count.
    pub resolution: f32,
    /// Converter noise in the averaged level and in the zero.
    pub noise: f32,
    /// Slow wander of the amplifier that averaging does not take away.
    pub flicker: f32,
    /// Creep of the cell since the load went on.
    pub creep: f32,
    /// Hysteresis of the cell.
    pub hysteresis: f32,
    /// Bow of the cell where the calibration does not know it.
    pub linearity: f32,
    /// Calibration mass and fit.
    pub span: f32,
    /// Zero and span with temperature since the zero was taken.
    pub temperature: f32,
    /// The bowl that was taken off.
    pub bowl: f32,
}

impl Budget {
    /// The contributions by name, in the order of the table.
    #[must_use]
    pub const fn entries(&self) -> [(&'static str, f32); 9] {
        [
            ("resolution", self.resolution),
            ("noise", self.noise),
            ("flicker", self.flicker),
            ("creep", self.creep),
            ("hysteresis", self.hysteresis),
            ("linearity", self.linearity),
            ("span", self.span),
            ("temperature", self.temperature),
            ("bowl", self.bowl),
        ]
    }

    /// Combined standard uncertainty, mg.
    #[must_use]
    pub fn combined(&self) -> f32 {
        sqrt(self.entries().iter().map(|&(_, u)| u * u).sum())
    }
}
