//! The benchmark and the physical model beneath it.

mod benchmark;
mod own;
mod training;
mod world_model;
mod worlds;
