//! The ledger's rules.

mod carried;
mod likelihoods;
mod properties;
mod put_by;
mod recognition;
mod rules;
