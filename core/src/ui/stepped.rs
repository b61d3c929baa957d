//! A value that is being set, a step at each press: the only place that knows how.

use super::keys::{Key, Press};
use super::shows::Shows;
use crate::screen::{Body, Edit, KeyWord, Value, Word};

/// What a press on a value comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnValue {
    /// Leave it as it was.
    Leave,
    /// It is good now.
    Done,
    /// It is this now.
    Set(i32),
}

/// Reads a press as one on a value: one step down by ZERO, up by NEXT, `fast` at once while held, within a range from the least to the most.
pub(super) fn stepped(press: Press, value: i32, fast: i32, (least, most): (i32, i32)) -> OnValue {
    let value = match press {
        Press::Held(Key::Mark) => return OnValue::Leave,
        Press::Short(Key::Mark) => return OnValue::Done,
        Press::Short(Key::Zero) => value.saturating_sub(1),
        Press::Short(Key::Next) => value.saturating_add(1),
        Press::Held(Key::Zero) | Press::Again(Key::Zero) => value.saturating_sub(fast),
        Press::Held(Key::Next) | Press::Again(Key::Next) => value.saturating_add(fast),
        Press::Down(_) | Press::Again(Key::Mark) => value,
    };
    OnValue::Set(value.min(most).max(least))
}

/// The page of a value; the middle key's word says what becomes of it.
pub(super) const fn edit(title: Word, value: Value, done: KeyWord) -> Shows {
    let body = Body::Edit(Edit {
        title,
        value,
        hint: Some(Word::HoldMarkToLeave),
    });
    (body, [KeyWord::Less, done, KeyWord::More])
}
