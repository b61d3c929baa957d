//! The line to a computer.

mod frames;
mod vectors;
