//! Yarn letters: one for each cake or leftover in hand.

use serde::{Deserialize, Serialize};

/// How many yarns one pair can have in hand.
pub const YARNS: usize = 8;

/// A cake or leftover, A to H.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum YarnLetter {
    /// The main yarn by custom, but nothing depends on it.
    #[default]
    A,
    /// Second yarn.
    B,
    /// Third yarn.
    C,
    /// Fourth yarn.
    D,
    /// Fifth yarn.
    E,
    /// Sixth yarn.
    F,
    /// Seventh yarn.
    G,
    /// Eighth yarn.
    H,
}

impl YarnLetter {
    /// All letters in order.
    pub const ALL: [Self; YARNS] = [Self::A, Self::B, Self::C, Self::D, Self::E, Self::F, Self::G, Self::H];

    /// Place in [`Self::ALL`].
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }

    /// The letter itself.
    #[must_use]
    pub const fn symbol(self) -> char {
        match self {
            Self::A => 'A',
            Self::B => 'B',
            Self::C => 'C',
            Self::D => 'D',
            Self::E => 'E',
            Self::F => 'F',
            Self::G => 'G',
            Self::H => 'H',
        }
    }
}
