//! Coins as masses: official masses by name, honest about what a purse is worth.
//!
//! Mints allow a coin to be off by some percent, and wear takes more, so coins find a gross error of span and serve the
//! difference of a section (0.3 % of 4 g is 12 mg), not a whole skein.

use crate::math::{rss, sqrt};
use crate::measured::Measured;
use crate::units::Milligrams;

/// A coin, by issuer and face value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Coin {
    /// Name as the screen shows it; the same in every language.
    pub name: &'static str,
    /// Official mass.
    pub mass: Milligrams,
    /// Largest deviation the mint allows for one coin.
    pub tolerance: Milligrams,
}

/// Most coins that are weighed at once.
pub(crate) const MOST_COINS: u8 = 60;

/// Share by which circulated coins are lighter on average, as a standard uncertainty: an assumption of ours.
const WEAR: f32 = 0.003;

/// The coins offered. Masses: the issuers' published specifications (US Mint; Regulation (EU) 729/2014; Royal Mint).
/// Tolerances: US Mint's from memory; where none is published 3 % is assumed, within the 2 to 5 % that is common.
pub const COINS: [Coin; 15] = [
    coin("EUR 2", 8_500),
    coin("EUR 1", 7_500),
    coin("EUR 50 c", 7_800),
    coin("EUR 20 c", 5_740),
    coin("EUR 10 c", 4_100),
    coin("EUR 5 c", 3_920),
    coin("GBP 2", 12_000),
    coin("GBP 1", 8_750),
    coin("GBP 50 p", 8_000),
    coin("GBP 20 p", 5_000),
    coin("GBP 2 p", 7_120),
    Coin {
        name: "USD 25 c",
        mass: Milligrams(5_670),
        tolerance: Milligrams(227),
    },
    Coin {
        name: "USD 10 c",
        mass: Milligrams(2_268),
        tolerance: Milligrams(91),
    },
    Coin {
        name: "USD 5 c",
        mass: Milligrams(5_000),
        tolerance: Milligrams(194),
    },
    Coin {
        name: "USD 1 c",
        mass: Milligrams(2_500),
        tolerance: Milligrams(100),
    },
];

const fn coin(name: &'static str, mass: i32) -> Coin {
    Coin {
        name,
        mass: Milligrams(mass),
        tolerance: Milligrams(mass.saturating_mul(3) / 100),
    }
}

impl Coin {
    /// The mass of `count` of them: each off by up to its tolerance, independently (rectangular, GUM 4.3.7), and all of them
    /// worn alike.
    #[must_use]
    pub fn times(&self, count: u8) -> Measured {
        let value = Milligrams(self.mass.0.saturating_mul(i32::from(count)));
        let each = self.tolerance.0 as f32 / sqrt(3.0);
        Measured {
            value,
            u: rss(each * sqrt(f32::from(count)), WEAR * value.0 as f32),
        }
    }
}
