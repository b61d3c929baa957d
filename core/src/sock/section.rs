//! The parts of a sock, in the trade's words, and how each is constructed.
//!
//! The order of variants is part of the journal's format: append only.

use serde::{Deserialize, Serialize};

/// A part of a sock that is weighed on its own: from one mark to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum SectionKind {
    /// The ribbed edge at the top.
    Cuff,
    /// The tube between cuff and heel.
    Leg,
    /// The heel: flap and turn, or the whole short-row or afterthought heel.
    Heel,
    /// The decreasing (or, toe-up, increasing) rounds beside the instep.
    Gusset,
    /// The tube between gusset or heel and toe.
    Foot,
    /// The closed end.
    Toe,
}

/// How a heel is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum HeelConstruction {
    /// A flap worked back and forth, a turn, and a gusset of picked-up stitches.
    FlapAndGusset,
    /// Short rows on half the stitches, no gusset.
    ShortRow,
    /// Worked last, like a toe, into a row of waste yarn.
    Afterthought,
}

/// How a toe is shaped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum ToeConstruction {
    /// Two lines of decreases, one at each side.
    Wedge,
    /// Decreases spread round the toe.
    Rounded,
    /// Shaped to the left or the right foot.
    Asymmetric,
}

/// The ribbing of a cuff: knit stitches by purl stitches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Ribbing {
    /// Knit one, purl one.
    OneByOne,
    /// Knit two, purl two.
    TwoByTwo,
    /// Knit one through the back loop, purl one.
    Twisted,
}

/// How a section is worked, as far as that changes what it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Construction {
    /// Plain knitting: legs, gussets and feet.
    Plain,
    /// A cuff and its ribbing.
    Ribbed(Ribbing),
    /// A heel.
    Heel(HeelConstruction),
    /// A toe.
    Toe(ToeConstruction),
}

/// Which sock of the pair, in knitting order; not left and right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Sock {
    /// Knitted first.
    First,
    /// Knitted second.
    Second,
}

impl SectionKind {
    /// All kinds, cuff-down.
    pub const ALL: [Self; 6] = [Self::Cuff, Self::Leg, Self::Heel, Self::Gusset, Self::Foot, Self::Toe];

    /// Whether the section is one of those often worked in a contrast yarn (common practice, no source).
    #[must_use]
    pub const fn is_contrast(self) -> bool {
        matches!(self, Self::Cuff | Self::Heel | Self::Toe)
    }
}
