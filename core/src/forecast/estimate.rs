//! Grams of a section before anything has been knitted.

use super::geometry::SockShape;
use super::loop_length::{Gauge, mass_of_stitches};
use super::sock_size::SockSize;
use crate::math::{round, sqrt};
use crate::measured::Measured;
use crate::sock::{Construction, Decitex, SectionKind, Shape, Size};
use crate::units::Milligrams;

/// What an estimate goes by.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Estimator {
    /// Stitches and rounds in 10 cm.
    pub gauge: Gauge,
    /// The yarn.
    pub yarn: Decitex,
}

impl Estimator {
    /// Four-ply sock yarn at the usual gauge.
    #[must_use]
    pub(super) const fn four_ply(yarn: Decitex) -> Self {
        Self {
            gauge: Gauge::FOUR_PLY,
            yarn,
        }
    }

    /// Mass of so many stitches, with a standard uncertainty of [`DOUBT`]; `None` if the yarn's linear density or the gauge is
    /// not known, or the mass does not fit.
    #[must_use]
    pub(super) fn mass(self, stitches: u32) -> Option<Measured> {
        let milligrams = mass_of_stitches(stitches, self.gauge.loop_length(), self.yarn.tex());
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
    pub(super) fn counted(self, stitches: u16, rounds: u16) -> Option<Measured> {
        self.mass(u32::from(stitches).saturating_mul(rounds.into()))
    }

    /// Mass of a section of a sock of some shape.
    #[must_use]
    pub(super) fn section(self, shape: SockShape, kind: SectionKind, construction: Construction) -> Option<Measured> {
        self.mass(shape.stitches(kind, construction))
    }

    /// Mass of a section of which nothing is known but the stitches of the round: the largest usual sock that has them.
    #[must_use]
    pub(super) fn by_stitches(self, stitches: u8, kind: SectionKind, construction: Construction) -> Option<Measured> {
        let mut shape = SockShape::usual(SockSize::of_stitches(stitches));
        if let Construction::Heel(heel) = construction {
            shape.heel = heel;
        }
        self.section(shape, kind, construction)
    }
}

/// Mass of a section on one sock by whatever is known of its size: where nothing is, 64 stitches of a yarn of 420 m per 100 g.
///
/// `None` for a part of what is no sock. See [`estimate_at`].
#[must_use]
pub(crate) fn estimate(size: Size, kind: SectionKind, construction: Construction) -> Option<Milligrams> {
    estimate_at(size, None, kind, construction)
}

/// The same at a gauge of the knitter's own.
///
/// The foot is the one that the table gives for as wide a sock in four-ply yarn: by the gauge, or, where that is not known, since at the
/// same firmness the width of a stitch goes with the root of the linear density. Between two widths of the table the mass is
/// interpolated, so that one stitch more never adds a whole size. Counted rounds win over the table's lengths, except in heels and toes,
/// where a row has no one width.
#[must_use]
pub(crate) fn estimate_at(
    size: Size,
    gauge: Option<Gauge>,
    kind: SectionKind,
    construction: Construction,
) -> Option<Milligrams> {
    if kind.is_part() {
        return None;
    }
    let stitches = if size.stitches == 0 {
        USUAL_STITCHES
    } else {
        size.stitches
    };
    let yarn = size.yarn.or_usual();
    let rounds = if Shape::of(kind) == Shape::Tube { size.rounds } else { 0 };
    let size = Size { stitches, rounds, yarn };
    let stitch = match gauge {
        Some(gauge) => Gauge::FOUR_PLY.stitches / gauge.stitches,
        None => sqrt(yarn.tex() / Decitex::FOUR_PLY.tex()),
    };
    let width = f32::from(stitches) * stitch;
    let [narrower, wider] = SockSize::around(width);
    let [less, more] = [narrower, wider].map(|table| as_in_table(table, size, gauge, kind, construction));
    let apart = f32::from(wider.stitches) - f32::from(narrower.stitches);
    let share = if apart > 0.0 {
        (width - f32::from(narrower.stitches)) / apart
    } else {
        0.0
    };
    Some(Milligrams(round(less + (more - less) * share)))
}

/// What a sock of this size takes for a section by the proportions of one column of the table, mg.
fn as_in_table(
    table: SockSize,
    size: Size,
    gauge: Option<Gauge>,
    kind: SectionKind,
    construction: Construction,
) -> f32 {
    let estimator = Estimator::four_ply(Decitex::FOUR_PLY);
    let four_ply = if size.rounds > 0 {
        estimator.counted(table.stitches.into(), size.rounds)
    } else {
        estimator.by_stitches(table.stitches, kind, construction)
    };
    let four_ply = four_ply.map_or(0.0, |estimated| estimated.value.0 as f32);
    let of_table = Size {
        stitches: table.stitches,
        rounds: size.rounds,
        yarn: Decitex::FOUR_PLY,
    };
    let shape = Shape::of(kind);
    let multiple = match gauge {
        None => size.multiple_of(of_table, shape),
        // Stitches, rounds, length of a stitch, and mass of that.
        Some(gauge) => {
            let stitches = f32::from(size.stitches) / f32::from(table.stitches);
            let rounds = match shape {
                Shape::Tube if size.rounds > 0 => 1.0,
                Shape::Tube => gauge.rounds / Gauge::FOUR_PLY.rounds,
                Shape::Closed => stitches,
            };
            let [own, usual] = [gauge, Gauge::FOUR_PLY].map(|gauge| gauge.loop_length());
            stitches * rounds * (own / usual) * (size.yarn.tex() / Decitex::FOUR_PLY.tex())
        }
    };
    four_ply * multiple
}

/// Relative standard uncertainty of an estimate: the loop length alone differs by a tenth between the states of relaxation, and
/// a put-up of 100 g weighs 92 to 104 g.
pub(crate) const DOUBT: f32 = 0.1;

/// Stitches of a round of a medium adult sock in four-ply yarn (the published European table: 60 to 68 for sizes 34 to 45).
pub(crate) const USUAL_STITCHES: u8 = 64;

/// Nothing on this pan weighs more than 2 kg.
const MOST_MG: f32 = 2e6;
