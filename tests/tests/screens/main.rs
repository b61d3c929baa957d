//! Screens as pictures.

mod fit;
mod golden;
mod legible;
