//! Statistics and geometry behind the answers, against published values and a reference library; and what they rest on.

#![allow(
    clippy::arithmetic_side_effects,
    clippy::expect_used,
    clippy::float_cmp,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test that fails may do so anywhere"
)]

mod estimate;
mod how_far;
mod length;
mod published_loops;
mod statistics;
