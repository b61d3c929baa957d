//! Where to stop winding, to split a cake into two equal ones.

use crate::math::{ceil, sqrt};
use crate::measured::Measured;
use crate::units::Milligrams;

/// How a winding stands.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Halving {
    /// The word.
    pub word: Winding,
    /// What has still to leave the pan; negative if too much did.
    pub to_go: Milligrams,
    /// What the cake on the pan is to weigh in the end.
    pub target: Milligrams,
    /// What the two cakes would differ by if winding stopped now: pan minus wound. Its uncertainty is that of both
    /// weighings.
    pub difference: Measured,
}

/// The word of a winding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Winding {
    /// Go on.
    GoOn,
    /// Less than a gram to go.
    Slowly,
    /// The halves are equal, as far as can be weighed.
    Stop,
    /// Too much has left the pan: wind back.
    Back,
}

/// Where winding stands when the whole cake weighed `whole` and the pan now holds `now`.
///
/// The same for winding from the pan and onto it: the target is the half either way, and `onto_pan` says which way it goes.
/// `division` is the least difference that the reader sees.
#[must_use]
pub fn halve(whole: Measured, now: Measured, onto_pan: bool, division: Milligrams) -> Halving {
    let target = Milligrams(whole.value.0.div_euclid(2));
    let above = now.value - target;
    let to_go = if onto_pan { -above } else { above };
    let difference = Measured {
        value: now.value - (whole.value - now.value),
        u: sqrt(4.0 * now.u * now.u + whole.u * whole.u),
    };
    // Half a division each is as equal as the display can say; below its own uncertainty no difference is real.
    let equal = Milligrams(ceil(now.u)).max(Milligrams(division.0.div_euclid(2)));
    let word = if to_go > SLOWLY {
        Winding::GoOn
    } else if to_go > equal {
        Winding::Slowly
    } else if to_go >= -equal {
        Winding::Stop
    } else {
        Winding::Back
    };
    Halving {
        word,
        to_go,
        target,
        difference,
    }
}

/// A gram is some four metres of sock yarn: a few turns of a winder.
const SLOWLY: Milligrams = Milligrams::from_grams(1);
