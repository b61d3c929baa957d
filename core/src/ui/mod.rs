//! Pages as values: a press in, actions out; and what they show.
//!
//! NEXT goes round the daily pages: pan, used, rest of the pair. Holding NEXT opens the list of everything else, so that
//! nothing is more than three presses from home but the check on the bench, behind the diagnostics. On every list ZERO goes back without a
//! change, MARK takes the highlighted line, NEXT goes down; NEXT held runs down, ZERO held runs up. Every page can be left without a change by ZERO, and every
//! value that is being set by holding MARK.
//!
//! A page sees a [`Context`] and answers a press with [`Actions`]; it cannot touch the application. [`Page`] is the one that is open.
//!
//! | file | what it holds |
//! |---|---|
//! | `keys` | when a key was pressed or held |
//! | `context` | what a page may look at |
//! | `action` | what a press can ask for |
//! | `highlight` | the highlighted row, the same on every list |
//! | `page` | which page is open |
//! | the others | one page each |

mod action;
mod battery;
mod bench;
mod bowls;
mod calibrating;
mod change;
mod context;
mod control;
mod diagnostics;
mod estimate;
mod everything;
mod finished;
mod halve;
mod health;
mod highlight;
mod how_far;
mod keys;
mod language;
mod leftover;
mod line;
mod page;
mod pairs;
mod pan;
mod parts;
mod plan;
mod presets;
mod question;
mod rest;
mod room;
mod shows;
mod signs;
mod stepped;
mod stitches;
mod summary;
mod used;
mod visits;
mod yarn;

pub(crate) use action::{Action, To};
pub(crate) use bench::told;
pub(crate) use context::{Context, EMPTY_BELOW};
pub use health::{DriveShows, Health};
pub(crate) use keys::sooner;
pub use keys::{DEBOUNCE, HOLD, Key, Keys, Press};
pub(crate) use page::Page;
pub(crate) use question::QuestionPage;
pub(crate) use rest::RestPage;
