//! Drawing: a view in, pixels out.

mod canvas;
mod draw;
mod font;
mod fonts;
mod frame;
mod layout;
mod number;
mod pages;
mod parts;
mod say;
mod speech;
mod texts;
mod view;
mod words;

pub use draw::{Drawn, draw, draw_code, draw_other_board};
pub use font::{Font, Glyph};
pub use fonts::{FIGURES, HEADING, TEXT};
pub use frame::{Frame, Surface};
pub use layout::{COLUMNS, Field, ROWS};
pub use view::*;
pub use words::Word;
