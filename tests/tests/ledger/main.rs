//! The ledger's rules.

mod likelihoods;
mod properties;
mod rules;
