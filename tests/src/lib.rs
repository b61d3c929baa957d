//! Helpers for the tests that span crates.
