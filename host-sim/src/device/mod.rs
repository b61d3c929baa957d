//! The device on a computer: its board, panel, flash and keys, and the loop of the core that runs on them.

pub mod bench;
pub mod board;
pub mod dots;
pub mod endpoints;
pub mod flash;
pub mod keys;
pub mod panel;
pub mod paper;
pub mod picture;
pub mod simulator;
