//! What a section's use scales with: stitches x rounds x loop length x linear density.

use serde::{Deserialize, Serialize};

use crate::math::sqrt;
use crate::sock::{SectionKind, a_part};
use crate::units::Milligrams;

/// Linear density in decitex (grams per 10 km of yarn); 0 where it is not known. Sock yarn of 420 m per 100 g has 2,381.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Decitex(pub u16);

impl Decitex {
    /// Four-ply sock yarn of 420 m per 100 g: what is assumed of a yarn of which nothing is known.
    pub const FOUR_PLY: Self = Self(2_381);

    /// This, or the usual sock yarn's where it is not known.
    #[must_use]
    pub const fn or_usual(self) -> Self {
        if self.0 == 0 { Self::FOUR_PLY } else { self }
    }

    /// From the length per mass on the band, metres per 100 g; 0 gives "not known".
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        reason = "what does not fit has gone to the largest value just before"
    )]
    pub const fn from_metres_per_100_g(metres: u16) -> Self {
        let metres = metres as u32;
        let Some(decitex) = 1_000_000_u32.saturating_add(metres / 2).checked_div(metres) else {
            return Self(0);
        };
        Self(if decitex > u16::MAX as u32 {
            u16::MAX
        } else {
            decitex as u16
        })
    }

    /// Linear density in tex, grams per kilometre.
    #[must_use]
    pub fn tex(self) -> f32 {
        f32::from(self.0) * 0.1
    }

    /// Mass of a length of this yarn, rounded up; nothing if the linear density is not known.
    #[must_use]
    #[allow(
        clippy::cast_possible_truncation,
        reason = "what does not fit has gone to the largest value just before"
    )]
    pub const fn mass_of(self, millimetres: u32) -> Milligrams {
        let product = (self.0 as u64).saturating_mul(millimetres as u64);
        let milligrams = product.div_ceil(10_000);
        Milligrams(if milligrams > i32::MAX as u64 {
            i32::MAX
        } else {
            milligrams as i32
        })
    }
}

/// What a section's use scales with. Whatever is not known is 0 and scales nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Size {
    /// Stitches of a round of the sock.
    pub stitches: u8,
    /// Rounds (rows, for a heel) of the section; 0 where they were not counted.
    pub rounds: u16,
    /// The yarn.
    pub yarn: Decitex,
}

impl Size {
    /// What a section of this size takes, as a multiple of what one of the size `from` took; 1 if they are alike.
    ///
    /// Stitches x rounds x loop length x linear density. At the same firmness the loop length goes with the root of the linear
    /// density (constant tightness factor, Munden), and the rounds of a given length with its inverse. Where the rounds are
    /// not known, a tube is therefore taken to be as long as before, and a heel or toe to keep its shape: its rows go
    /// with its stitches.
    #[must_use]
    pub fn multiple_of(self, from: Self, shape: Shape) -> f32 {
        // By far the most frequent case, and a square root is long on a processor without floating point.
        if self == from {
            return 1.0;
        }
        let stitches = ratio(self.stitches.into(), from.stitches.into());
        let density = ratio(self.yarn.0, from.yarn.0);
        let loop_length = sqrt(density);
        let rounds = match (self.rounds, from.rounds, shape) {
            (1.., 1.., _) => ratio(self.rounds, from.rounds),
            (_, _, Shape::Tube) => 1.0 / loop_length,
            (_, _, Shape::Closed) => stitches,
        };
        stitches * rounds * loop_length * density
    }

    /// Whether two sizes differ in anything that both know.
    #[must_use]
    pub fn differs(self, other: Self) -> bool {
        let differ = |one: u16, two: u16| one != 0 && two != 0 && one != two;
        differ(self.stitches.into(), other.stitches.into())
            || differ(self.rounds, other.rounds)
            || differ(self.yarn.0, other.yarn.0)
    }
}

/// How a section grows with the stitches of the round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// As many rounds, each longer: cuff, leg, foot.
    Tube,
    /// Rows in proportion to the stitches: heel, gusset, toe.
    Closed,
}

impl Shape {
    /// The shape of a kind of section.
    #[must_use]
    pub const fn of(kind: SectionKind) -> Self {
        match kind {
            SectionKind::Cuff | SectionKind::Leg | SectionKind::Foot | a_part!() => Self::Tube,
            SectionKind::Heel | SectionKind::Gusset | SectionKind::Toe => Self::Closed,
        }
    }
}

fn ratio(new: u16, old: u16) -> f32 {
    if new == 0 || old == 0 {
        1.0
    } else {
        f32::from(new) / f32::from(old)
    }
}
