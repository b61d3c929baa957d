//! Will it do? What the leftover on the pan would be good for, best use first.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::Press;
use super::super::marking::EMPTY_BELOW;
use super::{OnList, Page, Shows, on_list};
use crate::forecast::contrast_sections;
use crate::forecast::{Choice, MOST_CHOICES, Rule, will_it_do};
use crate::screen::{About, AnswerPage, Body, KeyWord, Word};

/// Opens the page for what is on the pan, or anew once something else is.
pub(in super::super) fn open(app: &mut App) {
    app.page = Page::Leftover {
        choices: choices(app),
        selected: 0,
    };
}

pub(super) fn view(app: &App, choices: &[Choice], selected: u8) -> Shows {
    let count = u8::try_from(choices.len()).unwrap_or(u8::MAX);
    match choices.get(usize::from(selected)) {
        Some(choice) => {
            let about = About::Leftover {
                kinds: choice.kinds,
                socks: choice.socks,
            };
            let place = (selected.saturating_add(1), count);
            let page = AnswerPage {
                about,
                answer: Some(choice.answer),
                way_out: None,
                place,
            };
            (Body::Answer(page), [KeyWord::Back, KeyWord::Nothing, KeyWord::Down])
        }
        None => {
            let steady = app.scale.steady().is_some();
            let guide = crate::screen::Guide {
                title: Word::WillItDo,
                say: Word::PutLeftoverOn,
                value: crate::screen::Value::Nothing,
                steady,
            };
            (Body::Guide(guide), [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
        }
    }
}

pub(super) fn press(app: &mut App, press: Press, choices: Vec<Choice, MOST_CHOICES>, selected: u8) {
    match on_list(press, selected, choices.len()) {
        OnList::Back => app.page = Page::Pan,
        OnList::Highlight(selected) => app.page = Page::Leftover { choices, selected },
        OnList::Take | OnList::Nothing => {}
    }
}

fn choices(app: &App) -> Vec<Choice, MOST_CHOICES> {
    let Some(load) = app.scale.steady() else {
        return Vec::new();
    };
    let net = app.net(app.scale.gross(&load), app.book.bowls().in_use());
    if net.value < EMPTY_BELOW {
        return Vec::new();
    }
    will_it_do(
        net,
        &contrast_sections(app.book.ledger()),
        app.book.history(),
        Rule::default(),
    )
}
