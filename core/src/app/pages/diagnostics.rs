//! How the scale is: for whoever looks for a fault. ZERO goes back, NEXT scrolls.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::{Page, Shows};
use crate::converter::SampleRate;
use crate::screen::{Body, Item, ItemLabel, KeyWord, List, MAX_ROWS, Value, Word};
use crate::units::Milligrams;

pub(super) fn view(app: &App, top: u8) -> Shows {
    let list = List {
        title: Word::Diagnostics,
        items: items(app),
        selected: top,
    };
    (Body::List(list), [KeyWord::Back, KeyWord::Nothing, KeyWord::Down])
}

pub(super) fn press(app: &mut App, press: Press, top: u8) {
    match super::on_list(press, top, items(app).len()) {
        super::OnList::Highlight(top) => app.page = Page::Diagnostics { top },
        _ if press == Press::Short(Key::Zero) => app.page = Page::Pan,
        _ => {}
    }
}

fn items(app: &App) -> Vec<Item, MAX_ROWS> {
    let health = app.health();
    let known = |value: Option<Value>| value.unwrap_or(Value::Word(Word::NotKnown));
    let level = app
        .scale
        .level()
        .map(|level| Value::Number(level.0 / crate::units::FineCounts::PER_COUNT));
    let rows = [
        (
            Word::SelfTest,
            Value::Word(if health.sound() { Word::Good } else { Word::Bad }),
        ),
        (Word::Counts, known(level)),
        (Word::ASecond, known(a_second(app))),
        (
            Word::Noise,
            Value::Quantity(app.scale.noise() as i32, Word::MilligramsShort),
        ),
        (
            Word::Drift,
            Value::Quantity(app.scale.drift() as i32, Word::MilligramsAMinute),
        ),
        (
            Word::Supply,
            known(
                health
                    .supply
                    .map(|supply| Value::Quantity(supply.0.into(), Word::Millivolts)),
            ),
        ),
        (
            Word::JournalUsed,
            known(
                health
                    .journal_percent
                    .map(|used| Value::Quantity(used.into(), Word::Percent)),
            ),
        ),
        (Word::Damaged, Value::Number(health.gaps.into())),
        (Word::Hangs, Value::Number(health.hangs.into())),
        (Word::Errors, Value::Number(health.errors.into())),
        (
            Word::CalibrationOf100Grams,
            Value::PlusMinus(Milligrams((1.96e5 * app.scale.calibration().u_span()) as i32)),
        ),
        (Word::Version, Value::Name(app.version())),
    ];
    rows.into_iter()
        .map(|(word, value)| Item {
            label: ItemLabel::Word(word),
            value,
        })
        .collect()
}

/// Conversions a second: those of the strap where one fits, else what was counted.
fn a_second(app: &App) -> Option<Value> {
    Some(Value::Number(match app.pace.found()? {
        Ok(SampleRate::Ten) => 10,
        Ok(SampleRate::Eighty) => 80,
        Err(odd) => odd.hertz.into(),
    }))
}
