//! What a shell knows of its hardware.

use crate::converter::SampleRate;
use crate::units::{FineCounts, Milligrams};
use crate::weighing::{Calibration, Scale};

/// What a shell knows of its hardware.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Configuration {
    /// Most the pan may carry, bowl included, until the cell is set.
    pub capacity: Milligrams,
    /// The calibration to begin with, before the journal brings this device's own.
    pub calibration: Calibration,
    /// Whether that one may be trusted for a number; if not, the scale asks to be calibrated.
    pub calibrated: bool,
    /// Version of the program, for the diagnostics page.
    pub version: &'static str,
    /// What the chips say of themselves.
    pub chip: Chip,
}

/// What the chips say of themselves, for the check on the bench.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Chip {
    /// The number that the flash chip came with; 0 where there is none.
    pub flash_number: u64,
    /// Why the last reset was, as the chip's own register says.
    pub reset: u32,
}

impl Configuration {
    /// A scale as configured. `stored_zero` is where the empty pan last stood.
    pub(super) fn scale(
        &self,
        calibration: Calibration,
        capacity: Milligrams,
        stored_zero: Option<FineCounts>,
    ) -> Scale {
        Scale::new(calibration, capacity, SampleRate::default(), stored_zero)
    }

    /// The calibration to begin with on a cell of that capacity: an uncalibrated one goes by what such cells have in common.
    pub(super) fn calibration_of(&self, capacity: Milligrams) -> Calibration {
        if self.calibrated || capacity == self.capacity {
            self.calibration
        } else {
            Calibration::nominal(capacity)
        }
    }
}
