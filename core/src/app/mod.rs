//! The application: inputs in, effects out, one screen to look at. No clock, no pins, no flash: a shell brings them.
//!
//! [`App::handle`] is the only door. After each call the shell drains [`App::poll`], does what it says, answers
//! [`Effect::Append`] with [`Input::Appended`], and may rest until [`App::wait`].
//!
//! | file | what it decides |
//! |---|---|
//! | `application` | what holds the parts together: each input to where it is dealt with |
//! | `acting` | a press to the open page, and what that asks for is done |
//! | `mark` | what a press of MARK does: takes a steady load, or waits for one |
//! | `asking` | what that load means: noted, or asked about |
//! | `confirm` | what is said once the journal has taken a record: nothing is shown as noted before |
//! | `loads` | what a settled, lifted or emptied pan does |
//! | `pair` | begin a pair, take a mark back |
//! | `proposing` | the cake on the pan proposes its own pair |
//! | `state` | a record that has come into the journal goes into the book, and shows |
//! | `bench` | what the check on the bench does, and what is noted of it |
//! | `telling` | what is asked of the shell and said to the knitter |
//! | `sleeping` | when the display dims, goes off, and the converter with it |
//! | `bursts` | the converter while the display is dark |
//! | `supply` | when a supply is low, too low to write on, and at its end |
//! | `cells` | for how many days the cells last |

mod acting;
mod application;
mod asking;
mod bench;
mod bursts;
mod cells;
mod configuration;
mod confirm;
mod input;
mod loads;
mod mark;
mod marking;
mod pair;
mod proposing;
mod sleep;
mod sleeping;
mod state;
mod supply;
mod telling;

pub use crate::ui::{DEBOUNCE, DriveShows, HOLD, Health, Key, Keys, Press};
pub use application::App;
pub use cells::days_left;
pub use configuration::{Chip, Configuration};
pub use input::{Effect, Input, Wait};
pub use supply::{CutOffs, LOW_DAYS, POOR_CABLE};
