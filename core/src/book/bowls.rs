//! Bowls: tared once, remembered under a number, one of them in use or none.

use crate::measured::Measured;
use crate::sock::BowlNumber;

/// Bowls that can be remembered.
pub const BOWLS: usize = 9;

/// The remembered bowls.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bowls {
    masses: [Option<Measured>; BOWLS],
    in_use: Option<BowlNumber>,
}

impl Bowls {
    /// The mass of a bowl, if it was tared.
    #[must_use]
    pub fn mass(&self, number: BowlNumber) -> Option<Measured> {
        let place = usize::from(number.0).checked_sub(1)?;
        self.masses.get(place).copied().flatten()
    }

    /// Every remembered bowl.
    pub fn all(&self) -> impl Iterator<Item = (BowlNumber, Measured)> + '_ {
        let numbers = (1..=9).map(BowlNumber);
        numbers.filter_map(|number| Some((number, self.mass(number)?)))
    }

    /// The bowl in use.
    #[must_use]
    pub const fn in_use(&self) -> Option<BowlNumber> {
        self.in_use
    }

    /// Mass of the bowl in use; nothing without a bowl.
    #[must_use]
    pub fn tare(&self) -> Measured {
        self.of(self.in_use)
    }

    /// Mass of a bowl, or of none.
    #[must_use]
    pub fn of(&self, bowl: Option<BowlNumber>) -> Measured {
        bowl.and_then(|number| self.mass(number)).unwrap_or_default()
    }

    /// The lowest number that is free, or `None` if all nine are taken.
    #[must_use]
    pub fn free(&self) -> Option<BowlNumber> {
        (1..=9).map(BowlNumber).find(|&number| self.mass(number).is_none())
    }

    /// Remembers a bowl; one of the same number is replaced. Numbers other than 1 to 9 are ignored.
    pub fn remember(&mut self, number: BowlNumber, mass: Measured) {
        let place = usize::from(number.0).checked_sub(1);
        if let Some(known) = place.and_then(|place| self.masses.get_mut(place)) {
            *known = Some(mass);
        }
    }

    /// Puts a bowl in use, or none; a bowl that is not remembered counts as none.
    pub fn use_bowl(&mut self, bowl: Option<BowlNumber>) {
        self.in_use = bowl.filter(|&number| self.mass(number).is_some());
    }
}
