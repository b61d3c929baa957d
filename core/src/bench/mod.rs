//! The check on the bench: what a builder measures once on a new scale, measured by the scale itself.
//!
//! A [`Task`] is asked for by a key or by a computer. What takes time is [`Under way`](UnderWay) until it ends by itself; what comes out is
//! judged by [`limits`] and noted in the journal, so that a sheet can be filled in afterwards. `hardware-notes/bench-checks.md` is that
//! sheet, and shows the limits; a test compares them.
//!
//! | file | what it holds |
//! |---|---|
//! | `task` | what can be asked for |
//! | `pan` | what raw conversions of a pan at rest tell |
//! | `contact` | how a key's contact bounces |
//! | `under_way` | what takes time, until it ends |
//! | `limits` | what passes |

mod contact;
pub mod limits;
mod pan;
mod task;
mod under_way;

pub use contact::PRESSES;
pub use limits::Built;
pub use task::Task;
pub use under_way::{Outcome, Sheet, UnderWay};
