//! What the small signs mean, those of the home page that are lit now first. ZERO goes back.

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList, READING_KEYS};
use super::keys::Press;
use super::shows::Shows;
use crate::screen::{Body, SIGNS_VISIBLE, Sign};

/// The page of the small signs, from the first visible one on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct SignsPage {
    top: Highlight,
}

impl SignsPage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        // It stops where the last one is in sight.
        match self.top.press(press, Sign::ALL.len().saturating_sub(SIGNS_VISIBLE - 1)) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(_)) | None => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        (Body::Signs(self.top.0), READING_KEYS)
    }
}
