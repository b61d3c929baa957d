//! The answers: will it do, rest of the pair, how far, halve, pair check, dry yet, estimate.
//!
//! Pure functions of plain data; only `needs` and `how_far`, which ask the ledger what is still to be knitted and what was counted, know more than that. Nothing here
//! knows how a page looks.

mod answer;
mod drying;
mod estimate;
mod geometry;
mod halving;
mod how_far;
mod length;
mod loop_length;
mod needs;
mod pair_check;
mod past_pair;
mod prediction;
mod rounds;
mod sock_size;
mod spread;
mod student;
#[cfg(test)]
mod tests;
mod wanted;
mod way_out;
mod will_it_do;

pub use answer::{Answer, Basis, Reserve, Rule, Source, Word, answer};
pub use drying::{DryWord, Drying, Dryness};
pub(crate) use estimate::{DOUBT, USUAL_STITCHES, estimate, estimate_at};
pub use halving::{Halving, Winding, halve};
pub(crate) use how_far::{Pace, cast_off, half_of, has_even_rounds, other_toe, pace};
pub(crate) use length::{BAND_TOLERANCE, Length, length_of};
pub use needs::{Begun, all_ends, contrast_sections, estimated, wanted};
pub(crate) use needs::{gauge_of, moisture_over_days};
pub use pair_check::{FinishedPair, Gap, PairCheck, pair_check};
pub use prediction::Prediction;
pub use rounds::{PerRound, RoundsLeft, Stretch};
pub use student::student_quantile;
pub use wanted::{Socks, Wanted};
pub(crate) use way_out::MOST_WANTED;
pub use way_out::{WayOut, way_out};
pub use will_it_do::{Choice, KindSet, will_it_do};
pub(crate) use will_it_do::{MOST_CHOICES, MOST_KINDS};
