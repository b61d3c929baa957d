//! Grams for each section from stitches and gauge, before anything has been knitted.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::Shows;
use super::stepped::stepped;
use crate::forecast::estimate::{DOUBT, USUAL_STITCHES, estimate};
use crate::measured::Measured;
use crate::screen::{Body, Edit, Item, ItemLabel, KeyWord, List, MAX_ROWS, Value, Word};
use crate::sock::{Decitex, SectionKind, Size, YarnLetter, usual_construction};

/// Grams from the stitches of a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EstimatePage {
    highlight: Highlight,
    stitches: u8,
    /// The stitches are being set: what they are so far.
    setting: Option<u8>,
}

impl Default for EstimatePage {
    fn default() -> Self {
        Self {
            highlight: Highlight::default(),
            stitches: USUAL_STITCHES,
            setting: None,
        }
    }
}

impl EstimatePage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        if let Some(stitches) = self.setting {
            self.set(press, stitches);
            return Actions::none();
        }
        match self.highlight.press(press, self.items(context).len()) {
            Some(OnList::Back) => return Actions::go(To::Pan),
            Some(OnList::Take(0)) => self.setting = Some(self.stitches),
            // The others are answers.
            Some(OnList::Take(_)) | None => {}
        }
        Actions::none()
    }

    fn set(&mut self, press: Press, stitches: u8) {
        self.setting = match press {
            Press::Held(Key::Mark) => None,
            Press::Short(Key::Mark) => {
                self.stitches = stitches;
                None
            }
            Press::Short(Key::Zero | Key::Next)
            | Press::Held(Key::Zero | Key::Next)
            | Press::Down(_)
            | Press::Again(_) => {
                let stitches = stepped(press, stitches.into(), 4).clamp(40, 100);
                Some(u8::try_from(stitches).unwrap_or(USUAL_STITCHES))
            }
        };
    }

    fn items(&self, context: &Context<'_>) -> Vec<Item, MAX_ROWS> {
        let yarn = Decitex::from_metres_per_100_g(context.ledger().label(YarnLetter::A).metres_per_100_g);
        let size = Size {
            stitches: self.stitches,
            rounds: 0,
            yarn,
        };
        let first = Item {
            label: ItemLabel::Word(Word::Stitches),
            value: Value::Number(self.stitches.into()),
        };
        let sections = SectionKind::ALL.into_iter().map(|kind| {
            let value = estimate(size, kind, usual_construction(kind));
            let u = DOUBT * value.0 as f32;
            Item {
                label: ItemLabel::Kind(kind),
                value: Value::Measured(Measured { value, u }),
            }
        });
        core::iter::once(first).chain(sections).collect()
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        if let Some(stitches) = self.setting {
            let edit = Edit {
                title: Word::Stitches,
                value: Value::Number(stitches.into()),
                hint: Some(Word::HoldMarkToLeave),
            };
            return (Body::Edit(edit), [KeyWord::Less, KeyWord::Ok, KeyWord::More]);
        }
        let list = List {
            title: Word::Estimate,
            items: self.items(context),
            selected: self.highlight.0,
        };
        (Body::List(list), LIST_KEYS)
    }
}
