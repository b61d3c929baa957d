//! What the scale is fed from, its voltage, and for how many days it lasts as it is used. ZERO goes back.

use super::action::{Actions, To};
use super::context::Context;
use super::diagnostics::said;
use super::keys::{Key, Press};
use super::parts::supplied_from;
use super::shows::Shows;
use crate::screen::{Body, KeyWord, List, Value, Word};

/// The page of the battery.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct BatteryPage;

impl BatteryPage {
    pub(super) fn press(&mut self, _: &Context<'_>, press: Press) -> Actions {
        if press == Press::Short(Key::Zero) {
            Actions::go(To::Pan)
        } else {
            Actions::none()
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let health = context.health;
        let known = |value: Option<Value>| value.unwrap_or(Value::Word(Word::NotKnown));
        let volts = health
            .supply
            .map(|volts| Value::Quantity(volts.0.into(), Word::Millivolts));
        let days = health.lasts.map(|days| {
            let unit = if days == 1 { Word::Day } else { Word::Days };
            Value::Quantity(days.into(), unit)
        });
        let rows = [
            (supplied_from(context), known(volts)),
            (Word::LastsAbout, known(days)),
            (Word::InUseADay, Value::Quantity(health.hours_a_day.into(), Word::Hours)),
        ];
        let list = List {
            title: Word::Battery,
            items: said(&rows),
            selected: u8::MAX,
        };
        (Body::List(list), [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
    }
}
