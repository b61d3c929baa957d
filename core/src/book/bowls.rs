//! Bowls: tared once, remembered under a number, one of them in use or none.

use crate::measured::Measured;
use crate::sock::BowlNumber;
use crate::units::{Milligrams, Stamp};

/// Bowls that can be remembered.
pub(super) const BOWLS: usize = 9;

/// The remembered bowls.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bowls {
    masses: [Option<Measured>; BOWLS],
    /// When each number was last given, or taken away.
    since: [Stamp; BOWLS],
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

    /// Remembers a bowl from `at` on; one of the same number is replaced, and forgotten if the new one weighs nothing. Numbers other than
    /// 1 to 9 are ignored.
    pub fn remember(&mut self, number: BowlNumber, mass: Measured, at: Stamp) {
        let Some(place) = usize::from(number.0).checked_sub(1) else {
            return;
        };
        let mass = Some(mass).filter(|mass| mass.value > Milligrams::ZERO);
        if let Some(known) = self.masses.get_mut(place) {
            *known = mass;
        }
        if let Some(since) = self.since.get_mut(place) {
            *since = at;
        }
        if mass.is_none() && self.in_use == Some(number) {
            self.in_use = None;
        }
    }

    /// Whether a load that was weighed in a bowl at `at` still has the bowl's mass: the number has not been given anew since.
    #[must_use]
    pub fn knows(&self, bowl: Option<BowlNumber>, at: Stamp) -> bool {
        let Some(number) = bowl else { return true };
        let since = usize::from(number.0)
            .checked_sub(1)
            .and_then(|place| self.since.get(place));
        self.mass(number).is_some() && since.is_some_and(|&since| at >= since)
    }

    /// Puts a bowl in use, or none; a bowl that is not remembered counts as none.
    pub fn use_bowl(&mut self, bowl: Option<BowlNumber>) {
        self.in_use = bowl.filter(|&number| self.mass(number).is_some());
    }
}
