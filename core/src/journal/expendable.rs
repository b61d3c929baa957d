//! What may be erased to make room.

use super::Sequence;

/// What tells entries that may be erased: those with a lower number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Expendable(pub(super) Sequence);

impl Expendable {
    /// Nothing may be erased.
    pub(super) const NONE: Self = Self(Sequence(0));
    /// The oldest may always be erased.
    pub(super) const ALL: Self = Self(Sequence(u32::MAX));
}
