//! Sections that are still to be knitted, as the forecasts are asked about them.

use crate::measured::Measured;
use crate::sock::{Construction, SectionKind, Size};
use crate::units::Milligrams;

/// One kind of section that a yarn is to be knitted into, on one sock or on both.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Wanted {
    /// What is to be knitted.
    pub kind: SectionKind,
    /// How it is worked.
    pub construction: Construction,
    /// Its stitches, rounds and yarn.
    pub size: Size,
    /// On how many socks.
    pub socks: Socks,
    /// How many equal parts the section has in the plan, of which this yarn takes one: 1 unless the section is striped or
    /// split between yarns. 0 counts as 1.
    pub parts: u8,
    /// What the same section of sock 1 took, if this is for sock 2 alone and sock 1's is knitted.
    pub first: Option<Measured>,
    /// What has been knitted of it since the last mark.
    pub begun: Milligrams,
    /// What one such section takes by stitches and gauge, where no record helps.
    pub estimate: Option<Milligrams>,
    /// Ends of yarn that it leaves on each sock: two for a section in a yarn of its own, none in the middle of one yarn.
    pub ends: u8,
}

/// One sock or both.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Socks {
    /// One sock of the pair.
    One,
    /// Both socks.
    Both,
}

impl Wanted {
    /// A section in a yarn of its own, not begun, on one sock or both, of which nothing else is known.
    #[must_use]
    pub const fn contrast(kind: SectionKind, construction: Construction, size: Size, socks: Socks) -> Self {
        Self {
            kind,
            construction,
            size,
            socks,
            parts: 1,
            first: None,
            begun: Milligrams::ZERO,
            estimate: None,
            ends: 2,
        }
    }

    /// The same with an estimate by stitches and gauge of what one sock's section takes, if there is one.
    #[must_use]
    pub fn with_estimate(mut self, one_sock: impl Into<Option<Milligrams>>) -> Self {
        self.estimate = one_sock.into();
        self
    }

    /// The same section of sock 2, where sock 1's took `first`.
    #[must_use]
    pub const fn like_first(mut self, first: Measured) -> Self {
        self.socks = Socks::One;
        self.first = Some(first);
        self
    }

    /// How many ends it leaves on all its socks.
    #[must_use]
    pub const fn all_ends(&self) -> u32 {
        (self.ends as u32).saturating_mul(self.socks.count() as u32)
    }
}

impl Socks {
    /// How many: 1 or 2.
    #[must_use]
    pub const fn count(self) -> u8 {
        match self {
            Self::One => 1,
            Self::Both => 2,
        }
    }
}
