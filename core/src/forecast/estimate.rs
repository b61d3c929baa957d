//! Grams of a section before anything has been knitted.

use super::geometry::SockShape;
use super::loop_length::{Gauge, Relaxation, mass_of_stitches};
use super::size::Decitex;
use super::sock_size::SockSize;
use crate::math::round;
use crate::measured::Measured;
use crate::section::{Construction, SectionKind};
use crate::units::Milligrams;

/// What an estimate goes by.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Estimator {
    /// Stitches and rounds in 10 cm.
    pub gauge: Gauge,
    /// How the gauge was measured.
    pub relaxation: Relaxation,
    /// The yarn.
    pub yarn: Decitex,
}

impl Estimator {
    /// Four-ply sock yarn at the usual gauge.
    #[must_use]
    pub const fn four_ply(yarn: Decitex) -> Self {
        Self {
            gauge: Gauge::FOUR_PLY,
            relaxation: Relaxation::Wet,
            yarn,
        }
    }

    /// Mass of so many stitches, with a standard uncertainty of [`DOUBT`]; `None` if the yarn's linear density or the gauge is
    /// not known, or the mass does not fit.
    #[must_use]
    pub fn mass(self, stitches: u32) -> Option<Measured> {
        let milligrams = mass_of_stitches(stitches, self.gauge.loop_length(self.relaxation), self.yarn.tex());
        if stitches > 0 && milligrams <= 0.0 || milligrams > MOST_MG {
            return None;
        }
        Some(Measured {
            value: Milligrams(round(milligrams)),
            u: milligrams * DOUBT,
        })
    }

    /// Mass of a section worked over `stitches` stitches and `rounds` rounds (for a heel or toe: over so many on average).
    #[must_use]
    pub fn counted(self, stitches: u16, rounds: u16) -> Option<Measured> {
        self.mass(u32::from(stitches).saturating_mul(rounds.into()))
    }

    /// Mass of a section of a sock of some shape.
    #[must_use]
    pub fn section(self, shape: SockShape, kind: SectionKind, construction: Construction) -> Option<Measured> {
        self.mass(shape.stitches(kind, construction))
    }

    /// Mass of a section of which nothing is known but the stitches of the round: the largest usual sock that has them.
    #[must_use]
    pub fn by_stitches(self, stitches: u8, kind: SectionKind, construction: Construction) -> Option<Measured> {
        let mut shape = SockShape::usual(SockSize::of_stitches(stitches));
        if let Construction::Heel(heel) = construction {
            shape.heel = heel;
        }
        self.section(shape, kind, construction)
    }
}

/// Relative standard uncertainty of an estimate: the loop length alone differs by a tenth between the states of relaxation, and
/// a put-up of 100 g weighs 92 to 104 g.
pub const DOUBT: f32 = 0.1;

/// Nothing on this pan weighs more than 2 kg.
const MOST_MG: f32 = 2e6;
