//! What everybody talks about: the parts of a sock, the plan of a pair, yarn and its moisture, weights, and what sections took.

mod fibre;
mod history;
mod isotherm;
mod label;
pub mod moisture;
mod plan;
mod presets;
mod section;
mod section_use;
mod size;
#[cfg(test)]
mod tests;
mod weight;
mod yarn;

pub(crate) use history::Weighed;
pub use history::{History, KindRecord, PAIRS, PairRecord};
pub use label::{Fibre, Label};
pub use plan::{Line, MAX_LINES, Plan};
pub use presets::{Order, Preset, usual_construction};
pub(crate) use section::a_part;
pub use section::{Construction, HeelConstruction, Ribbing, SectionKind, Sock, ToeConstruction};
pub use section_use::SectionUse;
pub use size::{Decitex, Shape, Size};
pub use weight::{BowlNumber, Humidity, Weight};
pub use yarn::{YARNS, YarnLetter};
