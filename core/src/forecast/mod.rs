//! The answers: will it do, rest of the pair, halve, pair check, dry yet, estimate.
//!
//! Pure functions of plain data. Nothing here knows how the ledger stores its marks or how a page looks.

mod answer;
pub mod drying;
pub mod estimate;
pub mod geometry;
pub mod halving;
pub mod length;
pub mod loop_length;
pub mod pair_check;
mod past_pair;
mod prediction;
pub mod sock_size;
pub mod spread;
pub mod student;
mod wanted;
mod way_out;
mod will_it_do;

pub use answer::{Answer, Basis, FEWEST_PAIRS, Reserve, Rule, Source, Word, answer};
pub use prediction::Prediction;
pub use wanted::{Socks, Wanted};
pub use way_out::{MOST_WANTED, WayOut, way_out};
pub use will_it_do::{Choice, KindSet, MOST_CHOICES, MOST_KINDS, will_it_do};
