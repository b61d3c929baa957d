//! What a page shows.

use heapless::Vec;

use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS};
use crate::screen::{Body, Guide, Item, ItemLabel, KeyWord, List, Value, Word};

/// The body of the screen, and what the three keys do.
pub(crate) type Shows = (Body, [KeyWord; 3]);

/// A list to choose from; each item by its place, up to the first place that has none.
pub(super) fn list(title: Word, highlight: Highlight, item: &dyn Fn(usize) -> Option<Item>) -> Shows {
    let mut items = Vec::new();
    while let Some(item) = item(items.len()) {
        if items.push(item).is_err() {
            break;
        }
    }
    let list = List {
        title,
        items,
        selected: highlight.0,
    };
    (Body::List(list), LIST_KEYS)
}

/// A list of words.
pub(super) fn words(title: Word, highlight: Highlight, words: &[Word]) -> Shows {
    list(title, highlight, &|place| {
        words.get(place).map(|&word| item(word, Value::Nothing))
    })
}

/// One thing to do now.
pub(super) fn guide(context: &Context<'_>, title: Word, say: Word, value: Value) -> Body {
    Body::Guide(Guide {
        title,
        say,
        value,
        steady: context.scale.steady().is_some(),
    })
}

/// A line of a list that begins with a word.
pub(super) const fn item(word: Word, value: Value) -> Item {
    Item {
        label: ItemLabel::Word(word),
        value,
    }
}
