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
    /// The first part of what is no sock.
    Part1,
    /// The second.
    Part2,
    /// The third.
    Part3,
    /// The fourth.
    Part4,
    /// The fifth.
    Part5,
    /// The sixth.
    Part6,
    /// The seventh.
    Part7,
    /// The eighth.
    Part8,
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
    /// A part of what is no sock and has so many parts: a record of it says nothing of what has another number of them.
    PartOf(u8),
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

/// Every part of a free plan: a pattern for matches that need to know no more.
macro_rules! a_part {
    () => {
        $crate::sock::SectionKind::Part1
            | $crate::sock::SectionKind::Part2
            | $crate::sock::SectionKind::Part3
            | $crate::sock::SectionKind::Part4
            | $crate::sock::SectionKind::Part5
            | $crate::sock::SectionKind::Part6
            | $crate::sock::SectionKind::Part7
            | $crate::sock::SectionKind::Part8
    };
}
pub(crate) use a_part;

impl SectionKind {
    /// All kinds of a sock, cuff-down.
    pub const OF_A_SOCK: [Self; 6] = [Self::Cuff, Self::Leg, Self::Heel, Self::Gusset, Self::Foot, Self::Toe];

    /// The parts of what is no sock.
    pub const PARTS: [Self; 8] = [
        Self::Part1,
        Self::Part2,
        Self::Part3,
        Self::Part4,
        Self::Part5,
        Self::Part6,
        Self::Part7,
        Self::Part8,
    ];

    /// All kinds in their order.
    pub const ALL: [Self; 14] = [
        Self::Cuff,
        Self::Leg,
        Self::Heel,
        Self::Gusset,
        Self::Foot,
        Self::Toe,
        Self::Part1,
        Self::Part2,
        Self::Part3,
        Self::Part4,
        Self::Part5,
        Self::Part6,
        Self::Part7,
        Self::Part8,
    ];

    /// Whether it is a part of what is no sock.
    #[must_use]
    pub const fn is_part(self) -> bool {
        match self {
            Self::Cuff | Self::Leg | Self::Heel | Self::Gusset | Self::Foot | Self::Toe => false,
            a_part!() => true,
        }
    }

    /// Whether the section is one of those often worked in a contrast yarn (common practice, no source); any part may be.
    #[must_use]
    pub const fn is_contrast(self) -> bool {
        matches!(self, Self::Cuff | Self::Heel | Self::Toe) || self.is_part()
    }
}
