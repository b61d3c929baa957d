//! What can be asked of the check on the bench.

use serde::{Deserialize, Serialize};

/// One thing to check. To ask for it again does no harm: a later result replaces an earlier one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Task {
    /// Compare the supply with what a meter reads at VSYS, mV.
    Supply(u16),
    /// Watch the empty pan for some seconds: rate, noise, counts.
    EmptyPan,
    /// Watch the empty pan for a minute: drift.
    Drift,
    /// Weigh a known mass of so many grams, after [`Self::EmptyPan`]: counts a gram.
    KnownMass(u16),
    /// Watch the keys until each was pressed a few times.
    Keys,
    /// Show a frame along the edges of the panel.
    Frame,
    /// Whether that frame touched all four edges.
    Edges(bool),
    /// Whether a humidity sensor is fitted; it answers by itself if it does.
    Sensor(bool),
    /// Sound the buzzer.
    Tone,
    /// Whether it was heard.
    Heard(bool),
    /// Note what the chip says of itself: the flash's number, the cause of the last reset, the time to the first number.
    Chip,
    /// End what is under way, without a result.
    Stop,
}
