//! The application: inputs in, effects out, one screen to look at. No clock, no pins, no flash: a shell brings them.
//!
//! [`App::handle`] is the only door. After each call the shell drains [`App::poll`], does what it says, answers
//! [`Effect::Append`] with [`Input::Appended`], and may rest until [`App::wait`].
//!
//! | file | what it decides |
//! |---|---|
//! | `keys` | when a key was pressed or held |
//! | `marking` | what a press of MARK does: waits for a steady load, recognises the yarn, notes or asks |
//! | `confirm` | what is said once the journal has taken a record: nothing is shown as noted before |
//! | `loads` | what a settled, lifted or emptied pan does |
//! | `state` | a record that has come into the journal goes into the book, and shows |
//! | `amending` | correction of marks once the pan has been seen empty |
//! | `pages` | one file a page: what its keys do and what it shows |
//! | `sleep` | when the display dims, goes off, and the converter with it |

mod amending;
mod confirm;
mod dispatch;
mod health;
mod input;
mod keys;
mod loads;
mod marking;
mod pages;
mod pair;
mod setup;
mod sleep;
mod state;
mod telling;

pub use dispatch::{App, Configuration, EFFECTS};
pub use health::Health;
pub use input::{Effect, Input, Wait};
pub use keys::{DEBOUNCE, HOLD, Key, Keys, Press, REPEAT};
