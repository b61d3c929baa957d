//! The parts of the signal path against their definitions.

mod check;
mod drift;
mod estimator;
mod features;
mod noise;
mod segment;
mod ticks;
mod trees;
