//! The answers: will it do, rest of the pair, how far, halve, pair check, dry yet, estimate.
//!
//! Pure functions of plain data; only `needs` and `how_far`, which ask the ledger what is still to be knitted and what was counted, know more than that. Nothing here
//! knows how a page looks.

mod answer;
pub mod drying;
pub mod estimate;
pub mod geometry;
pub mod halving;
pub mod how_far;
pub mod length;
pub mod loop_length;
mod needs;
pub mod pair_check;
mod past_pair;
mod prediction;
pub mod rounds;
pub mod sock_size;
pub mod spread;
pub mod student;
mod wanted;
mod way_out;
mod will_it_do;

pub use answer::{Answer, Basis, FEWEST_PAIRS, Reserve, Rule, Source, Word, answer};
pub use needs::{Begun, all_ends, contrast_sections, estimated, gauge_of, moisture_over_days, wanted};
pub use prediction::Prediction;
pub use wanted::{Socks, Wanted};
pub use way_out::{MOST_WANTED, WayOut, way_out};
pub use will_it_do::{Choice, KindSet, MOST_CHOICES, MOST_KINDS, will_it_do};
