//! What the world hands out beside each word: the truth.

use super::fault::DigitalFault;

/// One conversion and what was true of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conversion {
    /// When it was ready, world seconds.
    pub at: f64,
    /// The word that arrived, signed 24 bit; `None` if none did.
    pub raw: Option<i32>,
    /// The truth beside it.
    pub truth: Truth,
}

/// What only a simulator knows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Truth {
    /// Mass on the pan, g.
    pub load_g: f64,
    /// Other force on the pan at that instant, g: hand, strand, steps.
    pub other_g: f64,
    /// What the converter would say without noise and faults, counts.
    pub clean_counts: f64,
    /// What it would say, also without other forces and ringing, once settled: creep, drift and all errors of the cell included.
    pub settled_counts: f64,
    /// Creep in it, g: output that the load's past has added.
    pub creep_g: f64,
    /// The word as the converter meant it.
    pub word: i32,
    /// The fault that spoilt this word.
    pub fault: Option<DigitalFault>,
}

/// What a scale's owner finds by calibration: the zero of a new cell and counts a gram up to the calibration mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Calibration {
    /// Counts without load.
    pub zero_counts: f64,
    /// Counts a gram, negative for a reversed cell.
    pub counts_per_g: f64,
}

impl Calibration {
    /// Grams for a level in counts.
    #[must_use]
    pub fn grams(&self, counts: f64) -> f64 {
        (counts - self.zero_counts) / self.counts_per_g
    }
}
