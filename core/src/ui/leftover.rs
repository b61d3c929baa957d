//! Will it do? What the leftover on the pan would be good for: the best use, then all of them as a list.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::{Shows, guide};
use crate::forecast::{Choice, MOST_CHOICES, Rule, contrast_sections, will_it_do};
use crate::screen::{About, AnswerPage, Body, KeyWord, Uses, Value, Word};
use crate::sock::SectionKind;

/// The uses of the leftover on the pan, as they were when that last changed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LeftoverPage {
    /// Best use first.
    choices: Vec<Choice, MOST_CHOICES>,
    /// The one that is shown or highlighted.
    highlight: Highlight,
    /// The list is shown, not the one.
    list: bool,
}

impl LeftoverPage {
    /// Asks for what is on the pan.
    pub(super) fn open(context: &Context<'_>) -> Self {
        Self {
            choices: choices(context),
            highlight: Highlight::default(),
            list: false,
        }
    }

    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        if self.list {
            match self.highlight.press(press, self.choices.len()) {
                Some(OnList::Back) => return Actions::go(To::Pan),
                Some(OnList::Take(_)) => self.list = false,
                None => {}
            }
            return Actions::none();
        }
        match press {
            Press::Short(Key::Zero) => Actions::go(To::Pan),
            Press::Short(Key::Mark) => {
                self.list = !self.choices.is_empty();
                Actions::none()
            }
            Press::Short(Key::Next) => {
                // The next best one.
                let _ = self.highlight.press(press, self.choices.len());
                Actions::none()
            }
            Press::Down(_) | Press::Held(_) | Press::Again(_) => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let Highlight(selected) = self.highlight;
        if self.list {
            let uses = Uses {
                choices: self.choices.clone(),
                selected,
            };
            return (Body::Uses(uses), LIST_KEYS);
        }
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
                    weighed_in: true,
                    parts: choice.kinds.kinds().any(SectionKind::is_part),
                    place: (selected.saturating_add(1), count),
                };
                (Body::Answer(page), [KeyWord::Back, KeyWord::List, KeyWord::Next])
            }
            None => {
                let guide = guide(context, Word::WillItDo, Word::PutLeftoverOn, Value::Nothing);
                (guide, [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
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
