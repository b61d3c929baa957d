//! Nothing is ever lost: the journal against power cuts at every flash operation, and against bits that turn over, with an
//! oracle that knows what was confirmed.

mod cuts;
mod flips;
mod found;
pub mod frame;
mod model;
mod scale;
mod story;
mod years;

pub use cuts::{CutCounts, Reach, cut_at_random, cut_everywhere, tell};
pub use flips::{FlipCounts, Unharmed};
pub use found::Found;
pub use model::Model;
pub use scale::Scale;
pub use story::{Step, a_pair_with_everything, only_settings, only_visits, round_the_ring};
pub use years::{DEVICE, Years};
