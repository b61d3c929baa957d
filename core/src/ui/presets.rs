//! A plan to begin a pair with: which sections in which yarn, then in which order the socks are knitted.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::Shows;
use super::stepped::stepped;
use crate::screen::{Body, Edit, Item, ItemLabel, KeyWord, List, Value, Word};
use crate::sock::{Order, Preset, SectionKind};

/// Which sections in which yarn, or how many parts where it is no sock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PresetsPage {
    highlight: Highlight,
    /// So many parts, while they are set.
    parts: Option<u8>,
}

/// Mittens have four: cuff, palm, tip, thumb.
const USUAL_PARTS: u8 = 4;
const MOST_PARTS: i32 = 8;
const _: () = assert!(SectionKind::PARTS.len() == MOST_PARTS as usize);

/// In which order the socks are knitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OrderPage {
    preset: Preset,
    highlight: Highlight,
}

impl PresetsPage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        if let Some(parts) = self.parts {
            return self.press_on_parts(press, parts);
        }
        // The free plan stands behind those of a sock.
        match self.highlight.press(press, Preset::ALL.len().saturating_add(1)) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(row)) => match Preset::ALL.get(row) {
                Some(&preset) => Actions::go(To::Order(preset)),
                None => {
                    self.parts = Some(USUAL_PARTS);
                    Actions::none()
                }
            },
            None => Actions::none(),
        }
    }

    fn press_on_parts(&mut self, press: Press, parts: u8) -> Actions {
        match press {
            Press::Held(Key::Mark) => self.parts = None,
            Press::Short(Key::Mark) => return Actions::go(To::Order(Preset::Parts(parts))),
            Press::Short(Key::Zero | Key::Next)
            | Press::Held(Key::Zero | Key::Next)
            | Press::Down(_)
            | Press::Again(_) => {
                let parts = stepped(press, parts.into(), 1).clamp(1, MOST_PARTS);
                self.parts = Some(u8::try_from(parts).unwrap_or(USUAL_PARTS));
            }
        }
        Actions::none()
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        if let Some(parts) = self.parts {
            let edit = Edit {
                title: Word::HowManyParts,
                value: Value::Number(parts.into()),
                hint: Some(Word::HoldMarkToLeave),
            };
            return (Body::Edit(edit), [KeyWord::Less, KeyWord::Ok, KeyWord::More]);
        }
        let free = core::iter::once(Preset::Parts(USUAL_PARTS));
        let words = Preset::ALL.into_iter().chain(free).map(|preset| match preset {
            Preset::OneYarn => Word::OneYarn,
            Preset::ContrastHeelsToes => Word::ContrastHeelsToes,
            Preset::ContrastCuffsHeelsToes => Word::ContrastCuffsHeelsToes,
            Preset::OneYarnToeUp => Word::OneYarnToeUp,
            Preset::ContrastToeUp => Word::ContrastToeUp,
            Preset::Parts(_) => Word::FreePlan,
        });
        list(words, self.highlight)
    }
}

impl OrderPage {
    pub(super) fn of(preset: Preset) -> Self {
        Self {
            preset,
            highlight: Highlight::default(),
        }
    }

    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, Order::ALL.len()) {
            Some(OnList::Back) => Actions::go(To::Presets),
            Some(OnList::Take(row)) => {
                let order = Order::ALL.get(row);
                order.map_or_else(Actions::none, |&order| Action::BeginPair(self.preset, order).into())
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        let words = Order::ALL.iter().map(|&order| match order {
            Order::OneAfterTheOther => Word::OneAfterTheOther,
            Order::TwoAtATime => Word::TwoAtATime,
            Order::OneSock if matches!(self.preset, Preset::Parts(_)) => Word::OnePiece,
            Order::OneSock => Word::OneSock,
        });
        list(words, self.highlight)
    }
}

fn list(words: impl Iterator<Item = Word>, highlight: Highlight) -> Shows {
    let items = words.map(|word| Item {
        label: ItemLabel::Word(word),
        value: Value::Nothing,
    });
    let list = List {
        title: Word::NewPair,
        items: items.collect(),
        selected: highlight.0,
    };
    (Body::List(list), LIST_KEYS)
}
