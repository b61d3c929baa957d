//! The control skein: a little of the same fibre that is never knitted. Weighed beside each mark, it tells what moisture
//! has done to the cakes since the last one.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::super::marking::EMPTY_BELOW;
use super::{Page, Shows};
use crate::journal::Record;
use crate::screen::{Body, Guide, KeyWord, RefusedWord, Value, Word};

pub(super) fn view(app: &App) -> Shows {
    let steady = app.scale.steady().is_some();
    let guide = Guide {
        title: Word::ControlSkein,
        say: Word::PutOnPan,
        value: Value::Nothing,
        steady,
    };
    (Body::Guide(guide), [KeyWord::Back, KeyWord::Take, KeyWord::Nothing])
}

pub(super) fn press(app: &mut App, press: Press) {
    match press {
        Press::Short(Key::Zero) => app.page = Page::Pan,
        Press::Short(Key::Mark) => match app.scale.steady() {
            Some(load) => {
                let weight = app.net(app.scale.gross(&load), app.book.bowls().in_use());
                if weight.value < EMPTY_BELOW {
                    return app.refuse(RefusedWord::EmptyPan);
                }
                app.note(Record::Control { weight });
                app.page = Page::Pan;
            }
            None => app.refuse(RefusedWord::NotSteady),
        },
        _ => {}
    }
}
