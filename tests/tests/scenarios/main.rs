//! Scenarios as a knitter writes them.

mod played;
