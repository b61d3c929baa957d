//! The finished pair on the pan: does it weigh what its sections took, and if not, why?

use crate::math::{ceil, rss};
use crate::measured::Measured;
use crate::sock::Decitex;
use crate::units::Milligrams;

/// A finished, dry pair and what is known of it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FinishedPair {
    /// What the pair weighs.
    pub pair: Measured,
    /// What all its marked sections took together.
    pub sections: Measured,
    /// Standard uncertainty of the pair's mass by moisture since the marks, mg (see the moisture functions).
    pub moisture_u: f32,
    /// How many ends were woven in and cut off.
    pub ends: u16,
    /// The yarn, for the mass of those ends.
    pub yarn: Decitex,
    /// What the lightest section of the pair took, if any is marked: a mark missed means at least about this much.
    pub lightest: Option<Milligrams>,
    /// Sections of the plan that have no mark.
    pub unmarked: u8,
}

/// What the gap between the pair and its sections is.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PairCheck {
    /// Pair minus sections.
    pub gap: Measured,
    /// What it means.
    pub meaning: Gap,
}

/// What a gap means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Gap {
    /// None to speak of: within what weighing and moisture can do.
    None,
    /// The pair is lighter by no more than ends that were cut off.
    EndsCutOff,
    /// The pair is heavier by a few percent: still damp, or the air is.
    Damp,
    /// The pair is heavier by a section or more: a section has no mark, or went into "start from here".
    MissedMark,
    /// The pair is lighter by more than ends: a mark too many, yarn that was ripped out, or the wool was damp when marked.
    TooMuchMarked,
}

/// Says what the gap between a finished pair and the sum of its sections means.
///
/// Within twice the combined standard uncertainty there is no gap. A lighter pair lost ends if the gap, less that doubt, is
/// what the ends can weigh at 150 mm each. A heavier one is damp up to 6 % of its mass, unless a section
/// is known to have no mark and the gap could be one.
#[must_use]
pub fn pair_check(finished: FinishedPair) -> PairCheck {
    let difference = finished.pair.minus(finished.sections);
    let gap = Measured {
        u: rss(difference.u, finished.moisture_u),
        ..difference
    };
    let doubt = Milligrams(ceil(2.0 * gap.u));
    let sure = gap.value.abs() - doubt;
    let cut = finished
        .yarn
        .mass_of(LONGEST_CUT_MM.saturating_mul(finished.ends.into()));
    let damp = Milligrams(ceil(finished.pair.value.abs().0 as f32 * MOST_DAMP));
    let like_a_section = finished.lightest.is_some_and(|lightest| gap.value + doubt >= lightest);
    let meaning = if sure.0 <= 0 {
        Gap::None
    } else if gap.value.0 < 0 {
        if sure <= cut {
            Gap::EndsCutOff
        } else {
            Gap::TooMuchMarked
        }
    } else if like_a_section && finished.unmarked > 0 || sure > damp {
        Gap::MissedMark
    } else {
        Gap::Damp
    };
    PairCheck { gap, meaning }
}

/// Longest piece that is cut off an end after weaving in, millimetres. Common practice, no source: ends are left 15 cm long,
/// and what is woven in stays.
pub(super) const LONGEST_CUT_MM: u32 = 150;

/// Share of its mass by which a pair that feels dry may still be damp: wool from 65 to 90 % of relative humidity takes up 6 %.
pub(super) const MOST_DAMP: f32 = 0.06;
