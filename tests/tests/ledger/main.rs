//! The ledger's rules.

mod amounts;
mod books;
mod carried;
mod late_marks;
mod likelihoods;
mod other_pairs;
mod properties;
mod put_by;
mod questions;
mod recognition;
mod rules;
mod shares;
mod situation;
