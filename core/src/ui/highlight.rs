//! The highlighted row of a list, and what the keys do on every list: the only place that knows how to go through one.

use super::keys::{Key, Press};
use crate::screen::KeyWord;

/// What the keys do on every list; the arrow stands for the held ZERO.
pub(super) const LIST_KEYS: [KeyWord; 3] = [KeyWord::BackOrUp, KeyWord::Choose, KeyWord::Down];

/// What they do where there is nothing to choose.
pub(super) const READING_KEYS: [KeyWord; 3] = [KeyWord::BackOrUp, KeyWord::Nothing, KeyWord::Down];

/// Which row is highlighted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Highlight(pub(super) u8);

/// What a press on a list comes to, if it did not only move the highlight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnList {
    /// Leave it without a change.
    Back,
    /// Take this row.
    Take(usize),
}

impl Highlight {
    /// Reads a press as one on a list of `rows`. A held NEXT runs down and a held ZERO up; both stop at the end. A short NEXT goes round.
    #[must_use]
    pub(super) fn press(&mut self, press: Press, rows: usize) -> Option<OnList> {
        let last = u8::try_from(rows.saturating_sub(1)).unwrap_or(u8::MAX);
        match press {
            Press::Short(Key::Zero) => return Some(OnList::Back),
            Press::Short(Key::Mark) => return Some(OnList::Take(self.0.into())),
            Press::Short(Key::Next) if self.0 >= last => self.0 = 0,
            Press::Short(Key::Next) | Press::Held(Key::Next) | Press::Again(Key::Next) => {
                self.0 = self.0.saturating_add(1).min(last);
            }
            Press::Held(Key::Zero) | Press::Again(Key::Zero) => self.0 = self.0.min(last).saturating_sub(1),
            Press::Down(_) | Press::Held(Key::Mark) | Press::Again(Key::Mark) => {}
        }
        None
    }
}
