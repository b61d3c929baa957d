//! Every text on the screen, in every language.

/// A text on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Word {
    /// "Menu".
    Menu,
}
