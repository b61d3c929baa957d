//! The drive's parts against their standards.

#![allow(
    clippy::arithmetic_side_effects,
    clippy::cast_possible_truncation,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test that fails may do so anywhere"
)]

mod commands;
mod transport;
mod volume;
