//! The parts of the signal path against their definitions.

#![allow(
    clippy::arithmetic_side_effects,
    clippy::expect_used,
    clippy::float_cmp,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test that fails may do so anywhere"
)]

mod averages;
mod check;
mod drift;
mod estimator;
mod features;
mod noise;
mod segment;
mod steadiness;
mod ticks;
