//! Drawing: a view in, pixels out, on any embedded-graphics target.

mod view;
mod words;

pub use view::*;
pub use words::Word;
