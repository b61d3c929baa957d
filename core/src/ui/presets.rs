//! A plan to begin a pair with: which sections in which yarn, then in which order the socks are knitted.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, item, list};
use crate::screen::{Value, Word};
use crate::sock::{Order, Preset, SectionKind};

/// Which sections in which yarn, or how many parts where it is no sock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct PresetsPage {
    highlight: Highlight,
}

/// In which order the socks are knitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct OrderPage {
    preset: Preset,
    highlight: Highlight,
}

/// As many as are offered.
const OFFERED: usize = Preset::ALL.len() + SectionKind::PARTS.len();

/// The plans of a sock, and behind them the free ones, by how many parts they have.
fn offered(row: usize) -> Option<Preset> {
    if let Some(&of_a_sock) = Preset::ALL.get(row) {
        return Some(of_a_sock);
    }
    let before = u8::try_from(row.checked_sub(Preset::ALL.len())?).ok()?;
    (row < OFFERED).then_some(Preset::Parts(before.saturating_add(1)))
}

impl PresetsPage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, OFFERED) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(row)) => {
                let preset = offered(row);
                preset.map_or_else(Actions::none, |preset| Actions::go(To::Order(preset)))
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, _: &Context<'_>) -> Shows {
        list(Word::NewPair, self.highlight, &|place| {
            let word = match offered(place)? {
                Preset::OneYarn => Word::OneYarn,
                Preset::ContrastHeelsToes => Word::ContrastHeelsToes,
                Preset::ContrastCuffsHeelsToes => Word::ContrastCuffsHeelsToes,
                Preset::OneYarnToeUp => Word::OneYarnToeUp,
                Preset::ContrastToeUp => Word::ContrastToeUp,
                Preset::Parts(parts) => return Some(item(Word::FreePlan, Value::Number(parts.into()))),
            };
            Some(item(word, Value::Nothing))
        })
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
        list(Word::NewPair, self.highlight, &|place| {
            let word = match Order::ALL.get(place)? {
                Order::OneAfterTheOther => Word::OneAfterTheOther,
                Order::TwoAtATime => Word::TwoAtATime,
                Order::OneSock if matches!(self.preset, Preset::Parts(_)) => Word::OnePiece,
                Order::OneSock => Word::OneSock,
            };
            Some(item(word, Value::Nothing))
        })
    }
}
