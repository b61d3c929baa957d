//! The section ledger: weigh-ins and marks in, used and left out.
//!
//! Each yarn has a chain of weights, noted one by one. What went between two neighbours of a chain belongs to the
//! later one's [`Purpose`]: a section of the plan, or none. Since every amount is the difference of two neighbours,
//! the sum of all amounts and what is left is the weigh-in, to the milligram, whatever was amended, undone or set late.

mod apply;
mod carried;
mod chain;
mod condense;
mod counted;
mod moisture;
mod needles;
mod pair;
mod put_by;
mod step;
mod table;

pub use apply::{ApplyFault, Ledger};
pub use condense::condense;
pub use counted::Counted;
pub(crate) use counted::MOST_COUNTED;
pub(crate) use needles::KNOWN_PAIRS;
pub use needles::Needles;
pub use pair::Pair;
pub use step::{MAX_STEPS, Purpose, Step};
pub use table::Account;
