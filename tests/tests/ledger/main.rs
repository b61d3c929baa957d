//! The ledger's rules.

mod properties;
mod recognition;
mod rules;
