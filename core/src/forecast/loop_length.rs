//! Yarn in a stitch, by the geometry of plain knitting.
//!
//! The stitches of a relaxed plain fabric are governed by the length of yarn in one loop alone: courses and wales per unit
//! length are `Kc / l` and `Kw / l`, stitches per unit area `Ks / l^2` with `Ks = Kc Kw`. Source: D. L. Munden, Journal of the
//! Textile Institute 50 (1959) T448; constants from memory, the fully relaxed ones also as an examination question gives them.

use crate::math::sqrt;

/// How relaxed a fabric is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Relaxation {
    /// Off the needles.
    Dry,
    /// Soaked and dried flat. An independent hand-knitted example (5 stitches and 7 rows to the inch, 45 stitches to the yard)
    /// has `Ks` = 22.4, between this and the next.
    #[default]
    Wet,
    /// Washed, agitated and tumbled.
    Full,
}

impl Relaxation {
    /// `Kc`, for courses (rounds).
    #[must_use]
    pub const fn courses(self) -> f32 {
        match self {
            Self::Dry => 5.0,
            Self::Wet => 5.3,
            Self::Full => 5.5,
        }
    }

    /// `Kw`, for wales (stitches of a round).
    #[must_use]
    pub const fn wales(self) -> f32 {
        match self {
            Self::Dry => 3.8,
            Self::Wet => 4.1,
            Self::Full => 4.2,
        }
    }

    /// `Ks`, stitches per area times the square of the loop length.
    #[must_use]
    pub fn stitches(self) -> f32 {
        self.courses() * self.wales()
    }
}

/// Stitches and rounds in 10 cm of plain knitting.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Gauge {
    /// Stitches in 10 cm of a round.
    pub stitches: f32,
    /// Rounds in 10 cm.
    pub rounds: f32,
}

impl Gauge {
    /// Four-ply sock yarn on 2.5 mm needles: 30 stitches and 42 rounds (common practice, no source).
    pub const FOUR_PLY: Self = Self {
        stitches: 30.0,
        rounds: 42.0,
    };

    /// From stitches and rows in 4 inches, as patterns print it.
    #[must_use]
    pub fn per_4_inches(stitches: f32, rounds: f32) -> Self {
        Self {
            stitches: stitches / 1.016,
            rounds: rounds / 1.016,
        }
    }

    /// Length of yarn in one stitch, mm; 0 if the gauge is not positive.
    #[must_use]
    pub fn loop_length(self, relaxation: Relaxation) -> f32 {
        let per_square_millimetre = self.stitches * self.rounds * 1e-4;
        if per_square_millimetre > 0.0 {
            sqrt(relaxation.stitches() / per_square_millimetre)
        } else {
            0.0
        }
    }
}

/// Mass of `stitches` stitches of a loop length in mm, of a yarn of `tex`: in mg.
#[must_use]
pub fn mass_of_stitches(stitches: u32, loop_length: f32, tex: f32) -> f32 {
    stitches as f32 * loop_length * tex * 1e-3
}

/// Tightness factor, the root of the linear density in tex over the loop length in cm: how firm a fabric is.
#[must_use]
pub fn tightness(tex: f32, loop_length: f32) -> f32 {
    if loop_length > 0.0 {
        10.0 * sqrt(tex) / loop_length
    } else {
        0.0
    }
}
