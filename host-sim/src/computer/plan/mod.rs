//! Which leftovers for which sections: an exact best plan for a whole drawer.

mod command;
pub mod journal;
mod problem;
mod solve;

pub use command::{PlanArgs, Section, as_json, leftover, section, table, text};
pub use problem::{Leftover, MOST_LEFTOVERS, MOST_SECTIONS, Numbers, Sections, Set, Unplannable};
pub use solve::{Assignment, Worth, solve};
