//! The benchmark: recordings of the simulated world with their truth, estimators run over them, and figures of how they did.
//!
//! "Hand-off" is the instant at which the hand has left. Definitions of all figures stand in [`score`].

pub mod benchmark;
pub mod bound;
pub mod command;
pub mod contender;
pub mod honesty;
pub mod ideal;
pub mod indicator;
mod kalman;
mod ours;
pub mod plot;
pub mod recording;
mod reference;
pub mod run;
pub mod scenario;
pub mod score;
pub mod section;
pub mod table;
pub mod worlds;
