//! Nothing is ever lost: the journal against power cuts at every flash operation, and against bits that turn over, with an
//! oracle that knows what was confirmed.

mod after_cut;
mod campaigns;
mod cuts;
mod flips;
mod found;
pub mod frame;
mod model;
mod restore_scenes;
mod restores;
mod scale;
mod scenes;
mod several;
mod story;
mod years;

pub use campaigns::{CAMPAIGNS, Campaign, keep_losing_power};
pub use cuts::{CutCounts, Reach, cut_at_random, cut_everywhere, tell};
pub use flips::{FlipCounts, Unharmed};
pub use found::Found;
pub use model::Model;
pub use restore_scenes::cut_restores;
pub use restores::{RestoreCounts, Saved, cut_restore, put_back, standing};
pub use scale::Scale;
pub use scenes::{SCENES, Scene, cut_scene};
pub use several::SeveralPairs;
pub use story::{Step, a_pair_with_everything, letting_pairs_go, only_settings, only_visits, round_the_ring};
pub use years::{DEVICE, ENDURANCE, Years, endurance_years, until_full};
