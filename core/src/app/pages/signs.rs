//! What the small signs of the home page mean. ZERO goes back.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::{Page, Shows};
use crate::screen::{Body, KeyWord};

pub(super) fn view() -> Shows {
    (Body::Signs, [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
}

pub(super) fn press(app: &mut App, press: Press) {
    if press == Press::Short(Key::Zero) {
        app.page = Page::Pan;
    }
}
