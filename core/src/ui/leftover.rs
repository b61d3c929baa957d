//! Will it do? What the leftover on the pan would be good for, best use first.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::Shows;
use crate::forecast::{Choice, MOST_CHOICES, Rule, contrast_sections, will_it_do};
use crate::screen::{About, AnswerPage, Body, Guide, KeyWord, Value, Word};

/// The uses of the leftover on the pan, as they were when that last changed.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftoverPage {
    /// Best use first.
    choices: Vec<Choice, MOST_CHOICES>,
    /// The one that is shown.
    highlight: Highlight,
}

impl LeftoverPage {
    /// Asks for what is on the pan.
    pub(super) fn open(context: &Context<'_>) -> Self {
        Self {
            choices: choices(context),
            highlight: Highlight::default(),
        }
    }

    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, self.choices.len()) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(_)) | None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let Highlight(selected) = self.highlight;
        match self.choices.get(usize::from(selected)) {
            Some(choice) => {
                let count = u8::try_from(self.choices.len()).unwrap_or(u8::MAX);
                let page = AnswerPage {
                    about: About::Leftover {
                        kinds: choice.kinds,
                        socks: choice.socks,
                    },
                    answer: Some(choice.answer),
                    way_out: None,
                    place: (selected.saturating_add(1), count),
                };
                (Body::Answer(page), [KeyWord::Back, KeyWord::Nothing, KeyWord::Down])
            }
            None => {
                let guide = Guide {
                    title: Word::WillItDo,
                    say: Word::PutLeftoverOn,
                    value: Value::Nothing,
                    steady: context.scale.steady().is_some(),
                };
                (Body::Guide(guide), [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
            }
        }
    }
}

fn choices(context: &Context<'_>) -> Vec<Choice, MOST_CHOICES> {
    let net = context.scale.steady().map(|load| context.net_of(&load));
    let Some(net) = net.filter(|net| net.value >= EMPTY_BELOW) else {
        return Vec::new();
    };
    will_it_do(
        net,
        &contrast_sections(context.ledger()),
        context.book.history(),
        Rule::default(),
    )
}
