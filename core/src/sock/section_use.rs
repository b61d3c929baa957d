//! What a section took, in short. Part of the journal's format.

use serde::{Deserialize, Serialize};

use super::Line;
use crate::measured::Measured;

/// What one section of a closed pair took.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SectionUse {
    /// The section, as it stood in the plan.
    pub line: Line,
    /// What it took.
    pub used: Measured,
    /// A mark of it was in doubt.
    pub doubtful: bool,
}
