//! The list of everything that is not needed daily. Settings change in place, a step with each press.

use super::super::dispatch::App;
use super::super::keys::Press;
use super::super::setup::calibrating::Calibrating;
use super::super::setup::yarn::YarnStage;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::forecast::estimate::USUAL_STITCHES;
use crate::journal::{Language, Record, Setting};
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::weighing::Unit;

/// What can be opened or changed here, in order.
const ROWS: [Row; 18] = [
    Row::Leftover,
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
    Row::Diagnostics,
    Row::Signs,
];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Row {
    Leftover,
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
    Diagnostics,
    Signs,
}

pub(super) fn view(app: &App, selected: u8) -> Shows {
    let items = ROWS.iter().map(|&row| Item {
        label: ItemLabel::Word(row.word()),
        value: row.value(app),
    });
    (
        Body::List(List {
            title: Word::Everything,
            items: items.collect(),
            selected,
        }),
        LIST_KEYS,
    )
}

pub(super) fn press(app: &mut App, press: Press, selected: u8) {
    match on_list(press, selected, ROWS.len()) {
        OnList::Back => app.page = Page::Pan,
        OnList::Highlight(selected) => app.page = Page::Everything { selected },
        OnList::Take => {
            if let Some(row) = ROWS.get(usize::from(selected)) {
                row.take(app);
            }
        }
        OnList::Nothing => {}
    }
}

impl Row {
    const fn word(self) -> Word {
        match self {
            Self::Leftover => Word::WillItDo,
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
            Self::Diagnostics => Word::Diagnostics,
            Self::Signs => Word::Signs,
        }
    }

    fn value(self, app: &App) -> Value {
        let settings = app.book.settings();
        match self {
            Self::Leftover
            | Self::Plan
            | Self::Halve
            | Self::PairCheck
            | Self::DryYet
            | Self::Estimate
            | Self::Control
            | Self::Yarns
            | Self::NewPair
            | Self::Calibration
            | Self::Diagnostics
            | Self::Signs => Value::Nothing,
            Self::Bowls => app
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
            Self::Sound => Value::Word(if settings.sound { Word::On } else { Word::Off }),
        }
    }

    fn take(self, app: &mut App) {
        let settings = app.book.settings();
        let setting = match self {
            Self::Leftover => return super::leftover::open(app),
            Self::Halve => return app.page = Page::Halve { whole: None },
            Self::PairCheck => return super::finished::open_check(app),
            Self::DryYet => return super::finished::open_dry(app),
            Self::Estimate => {
                return app.page = Page::Estimate {
                    stitches: USUAL_STITCHES,
                };
            }
            Self::Control => return app.page = Page::Control,
            Self::Plan => {
                return app.page = Page::Plan {
                    selected: app.cursor().unwrap_or(0),
                };
            }
            Self::Bowls => return super::bowls::open(app),
            Self::Yarns => return app.page = Page::Yarns(YarnStage::Which { selected: 0 }),
            Self::NewPair => return app.page = Page::Presets { selected: 0 },
            Self::Calibration => return app.page = Page::Calibrate(Calibrating::new()),
            Self::Diagnostics => return app.page = Page::Diagnostics { top: 0 },
            Self::Signs => return app.page = Page::Signs,
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
        app.note(Record::Setting(setting));
    }
}

/// The next of a few sensible times; the shortest after the longest.
fn longer(minutes: u8) -> u8 {
    let times = [2, 5, 10, 20, 30];
    times.into_iter().find(|&time| time > minutes).unwrap_or(2)
}
