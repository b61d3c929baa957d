//! From raw conversions to a level in counts that may be trusted, or not yet.
//!
//! [`Check`] throws out what the cell cannot have said, a decimator brings both sample rates to one beat of about a tenth of a second,
//! a segment keeps what has come since the last change, the noise model learns what this unit's rest looks like, small [trees](Tree) judge
//! its [features](Feature), [`Thresholds`] says how sure they must be, and [`Estimator`] puts it all together and says when the level
//! is steady.

mod check;
mod estimator;
mod features;
mod noise;
mod segment;
mod steadiness;
#[cfg(test)]
mod tests;
mod thresholds;
mod tick;
mod trees_at_eighty;
mod trees_at_ten;

pub use check::{Check, CheckedSample, SensorFault};
pub use estimator::{Estimator, Reading, SteadyLevel};
pub use features::{COUNT, Feature, Features};
pub(crate) use noise::Noise;
pub use steadiness::{DEPTH, Tree};
pub use thresholds::Thresholds;
