//! From raw conversions to a level in counts that may be trusted, or not yet.
//!
//! [`check`] throws out what the cell cannot have said, [`tick`] brings both sample rates to one beat of about a tenth of a
//! second, [`segment`] keeps what has come since the last change, [`noise`] learns what this unit's rest looks like, [`strictness`]
//! says how sure one must be of it, and [`estimator`] puts them together and says when the level is steady.

pub mod check;
pub mod estimator;
pub mod features;
pub mod noise;
pub mod segment;
pub mod steadiness;
pub mod strictness;
pub mod tick;
#[cfg(feature = "eighty")]
mod trees_at_eighty;
#[cfg(feature = "ten")]
mod trees_at_ten;

pub use check::{Check, CheckedSample, SensorFault};
pub use estimator::{Estimator, Reading, SteadyLevel};
pub use strictness::Strictness;
