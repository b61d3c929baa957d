//! Yarn in a stitch, by the geometry of plain knitting.
//!
//! The stitches of a relaxed plain fabric are governed by the length of yarn in one loop alone: courses and wales per unit
//! length are `Kc / l` and `Kw / l`, stitches per unit area `Ks / l^2` with `Ks = Kc Kw`. Source: D. L. Munden, Journal of the
//! Textile Institute 50 (1959) T448; constants from memory.

use crate::math::sqrt;

/// `Kc`, for courses (rounds), of a fabric that was soaked and dried flat.
pub(super) const COURSES: f32 = 5.3;
/// `Kw`, for wales (stitches of a round), likewise.
///
/// An independent hand-knitted example (5 stitches and 7 rows to the inch, 45 stitches to the yard) has a `Ks` of 22.4; here it is 21.7.
pub(super) const WALES: f32 = 4.1;

/// Stitches and rounds in 10 cm of plain knitting.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Gauge {
    /// Stitches in 10 cm of a round.
    pub stitches: f32,
    /// Rounds in 10 cm.
    pub rounds: f32,
}

impl Gauge {
    /// Four-ply sock yarn on 2.5 mm needles: 30 stitches and 42 rounds (common practice, no source).
    pub(crate) const FOUR_PLY: Self = Self {
        stitches: 30.0,
        rounds: 42.0,
    };

    /// Length of yarn in one stitch, mm; 0 if the gauge is not positive.
    #[must_use]
    pub(crate) fn loop_length(self) -> f32 {
        let per_square_millimetre = self.stitches * self.rounds * 1e-4;
        if per_square_millimetre > 0.0 {
            sqrt(COURSES * WALES / per_square_millimetre)
        } else {
            0.0
        }
    }
}

/// Mass of `stitches` stitches of a loop length in mm, of a yarn of `tex`: in mg.
#[must_use]
pub(super) fn mass_of_stitches(stitches: u32, loop_length: f32, tex: f32) -> f32 {
    stitches as f32 * loop_length * tex * 1e-3
}
