//! The contributors' bench: how good the estimator and the answers are, what the judge of steadiness learns from, recordings with
//! their truth, and a picture of every page.

pub mod budget;
pub mod calibrations;
pub mod knitters;
pub mod measure;
pub mod pages;
pub mod season;
pub mod traces;
pub mod training;
