//! Grams for each section from stitches and gauge, before anything has been knitted.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::Context;
use super::keys::{Key, Press};
use super::shows::Shows;
use super::stepped::stepped;
use crate::forecast::estimate::{DOUBT, USUAL_STITCHES, estimate};
use crate::measured::Measured;
use crate::screen::{Body, Item, ItemLabel, KeyWord, List, MAX_ROWS, Value, Word};
use crate::sock::{Decitex, SectionKind, Size, YarnLetter, usual_construction};

/// Grams from the stitches of a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EstimatePage {
    stitches: u8,
}

impl Default for EstimatePage {
    fn default() -> Self {
        Self {
            stitches: USUAL_STITCHES,
        }
    }
}

impl EstimatePage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        if press == Press::Short(Key::Mark) {
            return Actions::go(To::Pan);
        }
        let stitches = stepped(press, self.stitches.into(), 4).clamp(40, 100);
        self.stitches = u8::try_from(stitches).unwrap_or(USUAL_STITCHES);
        Actions::none()
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let yarn = Decitex::from_metres_per_100_g(context.ledger().label(YarnLetter::A).metres_per_100_g);
        let size = Size {
            stitches: self.stitches,
            rounds: 0,
            yarn,
        };
        let mut items: Vec<Item, MAX_ROWS> = Vec::new();
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
        for item in core::iter::once(first).chain(sections) {
            // Seven fit.
            let _ = items.push(item);
        }
        let list = List {
            title: Word::Estimate,
            items,
            selected: 0,
        };
        (Body::List(list), [KeyWord::Less, KeyWord::Back, KeyWord::More])
    }
}
