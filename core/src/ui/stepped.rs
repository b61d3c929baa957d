//! A value that is being set, a step at each press.

use super::keys::{Key, Press};

/// The value after a press: one step down by ZERO, up by NEXT, ten steps at once while held.
pub(super) fn stepped(press: Press, value: i32, fast: i32) -> i32 {
    match press {
        Press::Short(Key::Zero) => value.saturating_sub(1),
        Press::Short(Key::Next) => value.saturating_add(1),
        Press::Held(Key::Zero) | Press::Again(Key::Zero) => value.saturating_sub(fast),
        Press::Held(Key::Next) | Press::Again(Key::Next) => value.saturating_add(fast),
        Press::Down(_) | Press::Short(Key::Mark) | Press::Held(Key::Mark) | Press::Again(Key::Mark) => value,
    }
}
