//! A load that has settled, with all that is needed to judge it later.

use crate::signal::Noise;
use crate::signal::SteadyLevel;
use crate::units::{FineCounts, Instant};

/// Where the empty pan stood, and how that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ZeroPoint {
    /// Level of the empty pan.
    pub level: FineCounts,
    /// Standard error of that level from noise, counts.
    pub se: f32,
    /// When it was seen.
    pub at: Instant,
    /// Creep strain of the cell then, mg (see `weighing/creep.rs`).
    pub strain: f32,
    /// What may have lain on the pan nevertheless, or how far the zero may have moved unseen, standard uncertainty in mg.
    pub doubt: f32,
    /// How far the cell's cooling in a pause of the converter may have moved it unseen, standard uncertainty in mg.
    pub cooled: f32,
    /// Whether the pan has been seen empty since power-on; if not, this is the stored zero.
    pub proven: bool,
}

/// A settled load. Only [`Scale`](super::Scale) makes one, and only from a level that settled: a mark takes nothing else.
///
/// ```compile_fail
/// use yarn_scale_core::weighing::SteadyLoad;
/// let forged = SteadyLoad { level: todo!(), noise: todo!(), zero: todo!(), since: todo!(), strain: todo!() };
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SteadyLoad {
    pub(super) level: SteadyLevel,
    pub(super) noise: f32,
    pub(super) zero: ZeroPoint,
    pub(super) since: Instant,
    pub(super) strain: f32,
}

impl SteadyLoad {
    /// The level, in the converter's own scale.
    #[must_use]
    pub const fn level(&self) -> FineCounts {
        self.level.level()
    }

    /// Standard error of the level from noise, counts.
    #[must_use]
    pub const fn se(&self) -> f32 {
        self.level.se()
    }

    /// Wander of the level that no averaging removes, counts.
    pub(super) fn flicker(&self) -> f32 {
        Noise::flicker_of(self.noise)
    }

    /// When its last sample was read.
    #[must_use]
    pub const fn at(&self) -> Instant {
        self.level.at()
    }

    /// Whether this is the mean of all that `earlier` was the mean of and of every tick since: the same load, known better. By then its
    /// ticks have become more by as many as the time between gives, short of one that a spoilt word can cost.
    #[must_use]
    pub fn goes_on_from(&self, earlier: &Self) -> bool {
        let more = self.level.ticks().saturating_sub(earlier.level.ticks());
        let passed = self.at().since(earlier.at()).0;
        more > 0 && passed <= u32::from(more).saturating_add(1).saturating_mul(LONGEST_TICK_MS)
    }

    /// Whether the pan has not been found empty between the two, nor the cell cooled down.
    pub(super) fn shares_zero_with(&self, other: &Self) -> bool {
        let (one, another) = (self.zero, other.zero);
        let as_warm = one.cooled.to_bits() == another.cooled.to_bits();
        one.at == another.at && one.proven == another.proven && as_warm
    }

    /// The zero that held then.
    #[must_use]
    pub const fn zero(&self) -> ZeroPoint {
        self.zero
    }

    /// When something was first on the pan, this load or one before it with no empty pan between.
    #[must_use]
    pub const fn since(&self) -> Instant {
        self.since
    }
}

/// A tick of a converter whose clock is a sixth slow.
const LONGEST_TICK_MS: u32 = 120;
