#![no_std]
//! Everything the yarn scale decides: weighing, section ledger, answers, screens.
//!
//! The line that data takes, one module a step, each with a type as its hand-over:
//!
//! raw counts → checked sample → load in counts, steady or not → grams → visit → mark → ledger → answer → screen

pub mod app;
pub mod board;
pub mod converter;
pub mod forecast;
pub mod journal;
pub mod ledger;
pub mod link;
pub mod math;
pub mod measured;
pub mod run;
pub mod screen;
pub mod section;
pub mod signal;
pub mod units;
pub mod weighing;
