//! One file a page.

mod pan;

pub(super) use pan::pan;
