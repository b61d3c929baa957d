//! Screens as pictures.

mod extremes;
mod fit;
mod frame;
mod golden;
mod legible;
mod pieces;
