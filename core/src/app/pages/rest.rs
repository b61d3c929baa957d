//! Rest of the pair: for each yarn, whether what is left of it does for what is still to be knitted.

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::{Page, Shows};
use crate::forecast::{Begun, wanted};
use crate::forecast::{Rule, Word, answer, way_out};
use crate::ledger::{Finding, recognise};
use crate::measured::Measured;
use crate::screen::{About, AnswerPage, Body, KeyWord};
use crate::sock::YarnLetter;

/// Opens the page on the yarn that the plan's cursor expects.
pub(super) fn open(app: &mut App) {
    let planned = app
        .cursor()
        .and_then(|line| app.book.ledger().plan().line(line))
        .map(|line| line.yarn);
    show(app, planned.unwrap_or_default());
}

/// Opens the page on a yarn.
pub(in super::super) fn show(app: &mut App, yarn: YarnLetter) {
    app.page = Page::Rest {
        yarn,
        page: ask(app, yarn),
    };
}

/// Whether a yarn will likely not do for the rest of the pair.
pub(in super::super) fn is_short(app: &App, yarn: YarnLetter) -> bool {
    let page = ask(app, yarn);
    page.answer.is_some_and(|answer| answer.word == Word::Short)
}

pub(super) fn view(page: AnswerPage) -> Shows {
    (Body::Answer(page), [KeyWord::Yarn, KeyWord::Mark, KeyWord::Next])
}

pub(super) fn press(app: &mut App, press: Press, yarn: YarnLetter) {
    match press {
        Press::Short(Key::Mark) => {
            app.page = Page::Pan;
            app.mark();
        }
        Press::Held(Key::Mark) => app.undo(),
        Press::Short(Key::Zero) => {
            let next = yarns(app)
                .skip_while(|&other| other != yarn)
                .nth(1)
                .or_else(|| yarns(app).next());
            show(app, next.unwrap_or_default());
        }
        Press::Short(Key::Next) => app.page = Page::Pan,
        Press::Held(Key::Next) => app.page = Page::Everything { selected: 0 },
        Press::Down(_) | Press::Held(Key::Zero) | Press::Again(_) => {}
    }
}

/// The yarns of the plan, in order of their letters.
fn yarns(app: &App) -> impl Iterator<Item = YarnLetter> + '_ {
    YarnLetter::ALL
        .into_iter()
        .filter(|yarn| app.book.ledger().plan().lines.iter().any(|line| line.yarn == *yarn))
}

fn ask(app: &App, yarn: YarnLetter) -> AnswerPage {
    let place = yarns(app)
        .position(|other| other == yarn)
        .map_or(0, |place| place.saturating_add(1));
    let count = yarns(app).count();
    let place = (u8::try_from(place).unwrap_or(0), u8::try_from(count).unwrap_or(0));
    let mut page = AnswerPage {
        about: About::RestOf(yarn),
        answer: None,
        way_out: None,
        place,
    };
    let Some(last) = app.book.ledger().last(yarn) else {
        return page;
    };
    let on_pan = on_pan(app, yarn);
    let left = on_pan.map_or(last.weight.net, |(net, _)| net);
    let wanted = wanted(app.book.ledger(), yarn, on_pan.map(|(_, begun)| begun));
    page.answer = answer(left, &wanted, app.book.history(), Rule::default());
    if page.answer.is_some_and(|answer| answer.word != Word::Enough) {
        page.way_out = way_out(left, &wanted, app.book.history(), Rule::default()).map(|way_out| way_out.change);
    }
    page
}

/// What the yarn weighs now and what has gone into the running section, if it is this yarn that is on the pan.
fn on_pan(app: &App, yarn: YarnLetter) -> Option<(Measured, Begun)> {
    let line = app.cursor().filter(|&line| {
        app.book
            .ledger()
            .plan()
            .line(line)
            .is_some_and(|line| line.yarn == yarn)
    })?;
    let load = app.scale.steady()?;
    let net = app.net(app.scale.gross(&load), app.book.bowls().in_use());
    match recognise(app.book.ledger(), line, net, app.expected(line))? {
        Finding::Section(_, used) => Some((net, Begun { line, used })),
        Finding::WeighIn(_) | Finding::Ask(..) => None,
    }
}
