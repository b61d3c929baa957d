//! Grams for each section from stitches and gauge, before anything has been knitted.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::setup::stepped;
use super::{Page, Shows};
use crate::forecast::estimate::{DOUBT, estimate};
use crate::measured::Measured;
use crate::screen::{Body, Item, ItemLabel, KeyWord, List, MAX_ROWS, Value, Word};
use crate::sock::{Decitex, SectionKind, Size, YarnLetter, usual_construction};

pub(super) fn view(app: &App, stitches: u8) -> Shows {
    let yarn = Decitex::from_metres_per_100_g(app.book.ledger().label(YarnLetter::A).metres_per_100_g);
    let size = Size {
        stitches,
        rounds: 0,
        yarn,
    };
    let mut items: Vec<Item, MAX_ROWS> = Vec::new();
    let first = Item {
        label: ItemLabel::Word(Word::Stitches),
        value: Value::Number(stitches.into()),
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

pub(super) fn press(app: &mut App, press: Press, stitches: u8) {
    if press == Press::Short(Key::Mark) {
        app.page = Page::Pan;
        return;
    }
    let stitches = stepped(press, stitches.into(), 4).clamp(40, 100);
    app.page = Page::Estimate {
        stitches: u8::try_from(stitches).unwrap_or(64),
    };
}
