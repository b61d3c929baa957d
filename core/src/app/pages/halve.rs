//! Halve: where to stop winding to split a cake into two equal ones, live.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::{Page, Shows};
use crate::screen::{Body, Halve, KeyWord, RefusedWord};
use crate::units::Milligrams;

pub(super) fn view(app: &App, whole: Option<Milligrams>) -> Shows {
    let readout = app.scale.readout();
    let now = readout.net.map(|net| net.value);
    let to_go = whole.zip(now).map(|(whole, now)| now - Milligrams(whole.0 / 2));
    let body = Halve {
        whole,
        shown: readout.shown,
        to_go,
        steady: readout.steady.is_some(),
    };
    let mark = if whole.is_some() {
        KeyWord::Nothing
    } else {
        KeyWord::Take
    };
    (Body::Halve(body), [KeyWord::Back, mark, KeyWord::Nothing])
}

pub(super) fn press(app: &mut App, press: Press, whole: Option<Milligrams>) {
    match press {
        Press::Short(Key::Zero) => app.page = Page::Pan,
        Press::Short(Key::Mark) if whole.is_none() => match app.scale.readout().steady {
            Some(load) => {
                let net = app.net(app.scale.gross(&load), app.bowls.in_use());
                app.page = Page::Halve { whole: Some(net.value) };
            }
            None => app.refuse(RefusedWord::NotSteady),
        },
        _ => {}
    }
}
