//! Screens as pictures.

mod fit;
mod frame;
mod golden;
mod legible;
