#![no_std]
//! Everything the yarn scale decides.

pub mod math;
pub mod measured;
pub mod units;
