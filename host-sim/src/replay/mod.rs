//! Recorded raw counts and presses through the same core: what the scale would have shown and noted.

pub mod calibration;
mod column;
pub mod presses;
pub mod trace;
