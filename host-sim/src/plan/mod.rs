//! Which leftovers for which sections: an exact best plan for a whole drawer.

mod command;
mod problem;
mod solve;

pub use command::{PlanArgs, as_json, run, table};
pub use problem::{Leftover, MOST_LEFTOVERS, MOST_SECTIONS, Numbers, Sections, Set, Unplannable};
pub use solve::{Assignment, Worth, solve};
