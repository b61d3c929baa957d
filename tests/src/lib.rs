//! Helpers for the tests that span crates.

pub mod account;
pub mod cell;
pub mod damage;
pub mod disk;
pub mod durability;
pub mod events;
pub mod every_record;
pub mod hostile;
pub mod knitting;
pub mod line;
pub mod random_journal;
pub mod records;
pub mod sections;
pub mod standing;
pub mod strict;
pub mod told;
pub mod values;

pub use yarn_scale_sim::device::bench;
