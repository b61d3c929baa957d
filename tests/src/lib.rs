//! Helpers for the tests that span crates.

pub mod bench;
pub mod sections;
pub mod values;
