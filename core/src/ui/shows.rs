//! What a page shows.

use crate::screen::{Body, KeyWord};

/// The body of the screen, and what the three keys do.
pub type Shows = (Body, [KeyWord; 3]);
