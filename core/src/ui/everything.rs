//! The list of everything that is not needed daily. Settings change in place, a step with each press.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::health::DriveShows;
use super::highlight::{Highlight, OnList};
use super::keys::Press;
use super::shows::{Shows, item, list};
use crate::book::Settings;
use crate::journal::{Language, Record, Setting};
use crate::screen::{Value, Word};
use crate::weighing::Unit;

/// What can be opened or changed here, in order.
const ROWS: [Row; 24] = [
    Row::Pairs,
    Row::Leftover,
    Row::HowFar,
    Row::Plan,
    Row::Halve,
    Row::PairCheck,
    Row::DryYet,
    Row::Estimate,
    Row::Control,
    Row::Bowls,
    Row::Yarns,
    Row::NewPair,
    Row::Calibration,
    Row::Units,
    Row::Language,
    Row::Brightness,
    Row::Sleep,
    Row::Sound,
    Row::Parts,
    Row::Drive,
    Row::Battery,
    Row::Diagnostics,
    Row::Room,
    Row::Signs,
];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Row {
    Pairs,
    Leftover,
    HowFar,
    Plan,
    Halve,
    PairCheck,
    DryYet,
    Estimate,
    Control,
    Bowls,
    Yarns,
    NewPair,
    Calibration,
    Units,
    Language,
    Brightness,
    Sleep,
    Sound,
    Parts,
    Drive,
    Battery,
    Diagnostics,
    Room,
    Signs,
}

/// The list of everything that is not needed daily.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct EverythingPage {
    highlight: Highlight,
}

impl EverythingPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match self.highlight.press(press, ROWS.len()) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(row)) => {
                let row = ROWS.get(row);
                row.map_or_else(Actions::none, |row| row.take(context.book.settings()))
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        list(Word::Everything, self.highlight, &|place| {
            let row = ROWS.get(place)?;
            Some(item(row.word(), row.value(context)))
        })
    }
}

impl Row {
    const fn word(self) -> Word {
        match self {
            Self::Pairs => Word::PairsOnNeedles,
            Self::Leftover => Word::WillItDo,
            Self::HowFar => Word::HowFar,
            Self::Plan => Word::Plan,
            Self::Halve => Word::Halve,
            Self::PairCheck => Word::PairCheck,
            Self::DryYet => Word::DryYet,
            Self::Estimate => Word::Estimate,
            Self::Control => Word::ControlSkein,
            Self::Bowls => Word::Bowls,
            Self::Yarns => Word::Yarns,
            Self::NewPair => Word::NewPair,
            Self::Calibration => Word::Calibration,
            Self::Units => Word::Units,
            Self::Language => Word::Language,
            Self::Brightness => Word::Brightness,
            Self::Sleep => Word::SleepAfter,
            Self::Sound => Word::Sound,
            Self::Parts => Word::Parts,
            Self::Drive => Word::Drive,
            Self::Battery => Word::Battery,
            Self::Diagnostics => Word::Diagnostics,
            Self::Room => Word::MakeRoom,
            Self::Signs => Word::Signs,
        }
    }

    fn value(self, context: &Context<'_>) -> Value {
        let settings = context.book.settings();
        match self {
            Self::Pairs => context
                .book
                .needles()
                .open()
                .try_into()
                .map_or(Value::Nothing, Value::Number),
            Self::Leftover
            | Self::HowFar
            | Self::Plan
            | Self::Halve
            | Self::PairCheck
            | Self::DryYet
            | Self::Estimate
            | Self::Control
            | Self::Yarns
            | Self::NewPair
            | Self::Calibration
            | Self::Parts
            | Self::Battery
            | Self::Diagnostics
            | Self::Room
            | Self::Signs => Value::Nothing,
            Self::Bowls => context
                .book
                .bowls()
                .in_use()
                .map_or(Value::Nothing, |number| Value::Number(number.0.into())),
            Self::Units => Value::Word(match settings.unit {
                Unit::Gram => Word::Grams,
                Unit::Ounce => Word::Ounces,
            }),
            Self::Language => Value::Word(Word::ThisLanguage),
            Self::Brightness => Value::Number(settings.brightness.into()),
            Self::Sleep => Value::Quantity(settings.sleep_minutes.into(), Word::Minutes),
            Self::Drive => match context.health.drive {
                DriveShows::Nothing => Value::Nothing,
                DriveShows::Soon => Value::Word(Word::DriveSoon),
                DriveShows::News => Value::Word(Word::DriveNews),
                DriveShows::Older => Value::Word(Word::DriveOlder),
            },
            Self::Sound => Value::Word(if settings.sound { Word::On } else { Word::Off }),
        }
    }

    fn take(self, settings: &Settings) -> Actions {
        let setting = match self {
            Self::Pairs => return Actions::go(To::Pairs),
            Self::Leftover => return Actions::go(To::Leftover),
            Self::HowFar => return Actions::go(To::HowFar),
            Self::Halve => return Actions::go(To::Halve),
            Self::PairCheck => return Actions::go(To::PairCheck),
            Self::DryYet => return Actions::go(To::Dry),
            Self::Estimate => return Actions::go(To::Estimate),
            Self::Control => return Actions::go(To::Control),
            Self::Plan => return Actions::go(To::Plan(None)),
            Self::Bowls => return Actions::go(To::Bowls),
            Self::Yarns => return Actions::go(To::Yarns),
            Self::NewPair => return Actions::go(To::Presets),
            Self::Calibration => return Actions::go(To::Calibrate),
            Self::Parts => return Actions::go(To::Parts),
            Self::Drive => return Action::BringNews.into(),
            Self::Battery => return Actions::go(To::Battery),
            Self::Diagnostics => return Actions::go(To::Diagnostics),
            Self::Room => return Actions::from(Action::LookForRoom).and_go(To::Room),
            Self::Signs => return Actions::go(To::Signs),
            Self::Units => Setting::Unit(match settings.unit {
                Unit::Gram => Unit::Ounce,
                Unit::Ounce => Unit::Gram,
            }),
            Self::Language => Setting::Language(match settings.language {
                Language::English => Language::German,
                Language::German => Language::English,
            }),
            Self::Brightness => Setting::Brightness(if settings.brightness >= 4 {
                1
            } else {
                settings.brightness.saturating_add(1)
            }),
            Self::Sleep => Setting::SleepMinutes(longer(settings.sleep_minutes)),
            Self::Sound => Setting::Sound(!settings.sound),
        };
        Actions::note(Record::Setting(setting))
    }
}

/// The next of a few sensible times; the shortest after the longest.
fn longer(minutes: u8) -> u8 {
    let times = [2, 5, 10, 20, 30];
    times.into_iter().find(|&time| time > minutes).unwrap_or(2)
}
