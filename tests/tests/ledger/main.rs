//! The ledger's rules.

mod likelihoods;
mod properties;
mod recognition;
mod rules;
