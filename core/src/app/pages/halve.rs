//! Halve: where to stop winding to split a cake into two equal ones, live.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::{Page, Shows};
use crate::forecast::halving::{Winding, halve};
use crate::measured::Measured;
use crate::screen::{Body, Halve, KeyWord, RefusedWord};
use crate::units::Milligrams;

pub(super) fn view(app: &App, whole: Option<Measured>) -> Shows {
    let winding = whole
        .zip(app.scale.readout().net)
        .map(|(whole, now)| halve(whole, now, false, DIVISION));
    let body = Halve {
        whole: whole.map(|whole| whole.value),
        shown: app.scale.shown(),
        to_go: winding.map(|winding| winding.to_go),
        winding: winding.map_or(Winding::GoOn, |winding| winding.word),
        steady: app.scale.steady().is_some(),
    };
    let mark = if whole.is_some() {
        KeyWord::Nothing
    } else {
        KeyWord::Take
    };
    (Body::Halve(body), [KeyWord::Back, mark, KeyWord::Nothing])
}

pub(super) fn press(app: &mut App, press: Press, whole: Option<Measured>) {
    match press {
        Press::Short(Key::Zero) => app.page = Page::Pan,
        Press::Short(Key::Mark) if whole.is_none() => match app.scale.steady() {
            Some(load) => {
                let net = app.net(app.scale.gross(&load), app.book.bowls().in_use());
                app.page = Page::Halve { whole: Some(net) };
            }
            None => app.refuse(RefusedWord::NotSteady),
        },
        _ => {}
    }
}

/// One division of the display.
const DIVISION: Milligrams = Milligrams(100);
