//! What the small signs of the home page mean. ZERO goes back.

use super::action::{Actions, To};
use super::context::Context;
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::screen::{Body, KeyWord};

/// The page of the small signs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SignsPage;

impl SignsPage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        if press == Press::Short(Key::Zero) {
            Actions::go(To::Pan)
        } else {
            Actions::none()
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        (Body::Signs, [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
    }
}
