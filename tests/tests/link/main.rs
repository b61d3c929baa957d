//! The line to a computer.

mod faults;
mod frames;
mod vectors;
