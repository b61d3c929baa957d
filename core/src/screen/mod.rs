//! Drawing: a view in, pixels out.

mod canvas;
mod draw;
pub mod font;
pub mod fonts;
mod frame;
pub mod layout;
mod number;
mod pages;
mod parts;
mod say;
mod speech;
mod texts;
mod view;
mod words;

pub use draw::{Drawn, draw, draw_code, draw_other_board};
pub use frame::{Frame, Surface};
pub use view::*;
pub use words::Word;
