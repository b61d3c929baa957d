//! What the scale tells the rest of the program.

use crate::measured::Measured;
use crate::signal::SensorFault;
use crate::weighing::indication::Indication;
use crate::weighing::load::SteadyLoad;

/// Whether the scale can say anything, and if not, why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Condition {
    /// No sample yet.
    Starting,
    /// All is well.
    Weighing,
    /// The sensor is faulty.
    Fault(SensorFault),
    /// More than capacity and nine divisions: take it off.
    Overload,
    /// More than twenty divisions under zero: the pan is off, or something lifts it.
    Underload,
    /// Far under zero, as when the cell is mounted or wired the other way round.
    Reversed,
}

/// What happened with a sample.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ScaleEvent {
    /// The pan was seen empty and the zero taken anew; earlier loads may be amended now.
    Emptied,
    /// A load has settled: a visit.
    Settled(SteadyLoad),
    /// The steady load is no longer there.
    Lifted,
}

/// What the scale says now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readout {
    /// Everything on the pan.
    pub gross: Option<Measured>,
    /// Less the tare; the best estimate, not rounded to a division.
    pub net: Option<Measured>,
    /// What the display shows.
    pub shown: Option<Indication>,
    /// The load, if it is steady and the sign may be shown.
    pub steady: Option<SteadyLoad>,
    /// Whether there can be a number at all.
    pub condition: Condition,
    /// Whether the pan has been seen empty since power-on.
    pub zero_proven: bool,
    /// Whether the pan is known to be empty.
    pub empty: bool,
}
