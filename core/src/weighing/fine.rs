//! The level to calibrate by, in the converter's own scale, whatever it means.

use crate::signal::{Reading, SteadyLevel};
use crate::units::{Duration, FineCounts, Instant};

/// The newest such level, and what the pan went through on the way.
#[derive(Clone, Debug)]
pub(super) struct CalibrationLevel {
    /// Forgotten with the next change of load.
    newest: Option<SteadyLevel>,
    /// The lowest and the highest level since [`Self::sweep_anew`].
    extremes: (FineCounts, FineCounts),
}

impl CalibrationLevel {
    pub(super) const fn new() -> Self {
        Self {
            newest: None,
            extremes: NO_EXTREMES,
        }
    }

    /// Takes what is known after a sample of a scale that makes `mg_per_count` of it.
    pub(super) fn take(&mut self, reading: &Reading, mg_per_count: f32) {
        self.extremes = (self.extremes.0.min(reading.level), self.extremes.1.max(reading.level));
        if reading.jumped {
            self.newest = None;
        }
        let Some(steady) = reading.steady else { return };
        // Ten seconds of a noisy unit are as good as it gets: more would only follow its drift.
        let fine = (steady.se() * mg_per_count).abs() < FINE_MG;
        if fine || reading.age >= LONG_TICKS {
            self.newest = Some(steady);
        }
    }

    pub(super) const fn forget(&mut self) {
        self.newest = None;
    }

    /// The newest, unless `now` it was too long ago.
    pub(super) fn level(&self, now: Option<Instant>) -> Option<FineCounts> {
        let newest = self.newest?;
        let now = now.unwrap_or(newest.at());
        (now.since(newest.at()) <= ON_SIGHT).then(|| newest.level())
    }

    /// The lowest and the highest level since [`Self::sweep_anew`].
    pub(super) const fn extremes(&self) -> (FineCounts, FineCounts) {
        self.extremes
    }

    pub(super) const fn sweep_anew(&mut self) {
        self.extremes = NO_EXTREMES;
    }
}

const NO_EXTREMES: (FineCounts, FineCounts) = (FineCounts(i32::MAX), FineCounts(i32::MIN));
/// Standard error of a level to calibrate by, mg: a tenth of a division on the cell of twice the rating, too.
const FINE_MG: f32 = 5.0;
/// Time from the tick to the press that it asks for.
const ON_SIGHT: Duration = Duration(1_000);
/// Ticks after which a level is taken to calibrate by, however noisy the unit.
const LONG_TICKS: usize = 100;
