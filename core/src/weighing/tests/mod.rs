//! The parts of weighing against their definitions, and against published values.

#![allow(
    clippy::arithmetic_side_effects,
    clippy::expect_used,
    clippy::float_cmp,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test that fails may do so anywhere"
)]

mod calibration;
mod creep;
mod display;
mod fit;
mod published;
mod restless;
mod zero;
