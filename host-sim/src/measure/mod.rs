//! The benchmark: recordings of the simulated world with their truth, estimators run over them, and figures of how they did.
//!
//! "Hand-off" is the instant at which the hand has left. Definitions of all figures stand in [`score`].

pub mod recording;
pub mod scenario;
