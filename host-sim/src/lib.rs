//! The simulator around the core: the physical world, the shells and the companion commands.

pub mod board;
pub mod budget;
pub mod calibrations;
pub mod cli;
pub mod computer;
pub mod desk;
pub mod dots;
pub mod failure;
pub mod fingers;
pub mod flash;
pub mod knitters;
pub mod lines;
pub mod measure;
pub mod pages;
pub mod panel;
pub mod picture;
pub mod plan;
pub mod player;
pub mod replay;
pub mod scenario;
pub mod season;
pub mod simulator;
pub mod things;
pub mod trace;
pub mod training;
pub mod world;
