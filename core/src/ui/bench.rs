//! The check on the bench: a list of what is checked with what came out; MARK on a line checks it.
//!
//! What takes time shows how long it still does, and ends by itself; ZERO ends it before. While the keys themselves are checked, they
//! do nothing else. A computer can ask for the same; the page then shows what is under way.

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::{Key, Press};
use super::shows::{Shows, guide, item, list, words};
use super::stepped::{OnValue, edit, stepped};
use crate::bench::{PRESSES, Task, UnderWay};
use crate::book::Checked;
use crate::journal::BenchCheck;
use crate::math::whole;
use crate::screen::{Body, Item, ItemLabel, KeyWord, Value, Word};
use crate::units::Milligrams;

/// The check on the bench.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct BenchPage {
    highlight: Highlight,
    stage: Stage,
}

/// What is asked before something can be checked, or to check it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Stage {
    /// Nothing: the list.
    #[default]
    List,
    /// What a meter reads at VSYS, in steps of 10 mV.
    Meter(i32),
    /// To empty the pan, for this task.
    Empty(Task),
    /// How heavy the known mass is, in steps of 10 g.
    Mass(i32),
    /// To put it on, once the empty pan has been watched.
    PutOn(u16),
    /// Whether the frame touches all edges.
    Edges,
    /// Whether the buzzer was heard.
    Heard(Highlight),
    /// Whether a sensor is fitted, since none answers.
    Fitted(Highlight),
}

/// The lines, in the order in which a new scale is checked.
const ROWS: [BenchCheck; BenchCheck::ALL.len()] = [
    BenchCheck::Panel,
    BenchCheck::Supply,
    BenchCheck::Rate,
    BenchCheck::Noise,
    BenchCheck::Empty,
    BenchCheck::Drift,
    BenchCheck::Span,
    BenchCheck::Keys,
    BenchCheck::Sensor,
    BenchCheck::Buzzer,
    BenchCheck::Flash,
    BenchCheck::Reset,
    BenchCheck::Boot,
];

/// A meter's reading and a known mass are set in steps of so many mV or g.
const STEP: i32 = 10;
/// What a meter can read, and the lightest known mass that tells something, in such steps.
const METER: (i32, i32) = (100, 600);
const LIGHTEST: i32 = 2;

impl BenchPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        if let Some(under_way) = context.sheet.under_way() {
            return match (under_way.task, press) {
                (Task::Frame, Press::Short(Key::Mark)) => Action::Check(Task::Edges(true)).into(),
                (Task::Frame, Press::Short(Key::Next)) => Action::Check(Task::Edges(false)).into(),
                (task, Press::Short(Key::Zero)) if task != Task::Keys => Action::Check(Task::Stop).into(),
                (_, Press::Short(_) | Press::Down(_) | Press::Held(_) | Press::Again(_)) => Actions::none(),
            };
        }
        match &mut self.stage {
            Stage::List => match self.highlight.press(press, ROWS.len()) {
                Some(OnList::Back) => Actions::go(To::Diagnostics),
                Some(OnList::Take(row)) => ROWS.get(row).map_or_else(Actions::none, |&row| self.take(context, row)),
                None => Actions::none(),
            },
            Stage::Meter(reads) => match stepped(press, *reads, 10, METER) {
                OnValue::Done => {
                    let millivolts = u16::try_from(reads.saturating_mul(STEP)).unwrap_or(u16::MAX);
                    self.done(Task::Supply(millivolts))
                }
                OnValue::Leave => self.back_to_list(),
                OnValue::Set(set) => {
                    *reads = set;
                    Actions::none()
                }
            },
            Stage::Mass(steps) => match stepped(press, *steps, 10, (LIGHTEST, context.capacity.0 / (1_000 * STEP))) {
                OnValue::Done => {
                    let grams = u16::try_from(steps.saturating_mul(STEP)).unwrap_or(u16::MAX);
                    self.stage = if context.sheet.has_empty() {
                        Stage::PutOn(grams)
                    } else {
                        Stage::Empty(Task::KnownMass(grams))
                    };
                    Actions::none()
                }
                OnValue::Leave => self.back_to_list(),
                OnValue::Set(set) => {
                    *steps = set;
                    Actions::none()
                }
            },
            Stage::Empty(task) => match (press, *task) {
                (Press::Short(Key::Mark), Task::KnownMass(grams)) => {
                    self.stage = Stage::PutOn(grams);
                    Action::Check(Task::EmptyPan).into()
                }
                (Press::Short(Key::Mark), task) => self.done(task),
                (press, _) => self.leave(press),
            },
            Stage::PutOn(grams) => match press {
                Press::Short(Key::Mark) => {
                    let grams = *grams;
                    self.done(Task::KnownMass(grams))
                }
                Press::Short(_) | Press::Down(_) | Press::Held(_) | Press::Again(_) => self.leave(press),
            },
            Stage::Edges => match press {
                Press::Short(Key::Mark) => self.done(Task::Edges(true)),
                Press::Short(Key::Next) => self.done(Task::Edges(false)),
                Press::Short(_) | Press::Down(_) | Press::Held(_) | Press::Again(_) => self.leave(press),
            },
            Stage::Heard(highlight) => match highlight.press(press, HEARD.len()) {
                Some(OnList::Take(0)) => self.done(Task::Heard(true)),
                Some(OnList::Take(1)) => self.done(Task::Heard(false)),
                Some(OnList::Take(_)) => Action::Check(Task::Tone).into(),
                Some(OnList::Back) => self.leave(press),
                None => Actions::none(),
            },
            Stage::Fitted(highlight) => match highlight.press(press, FITTED.len()) {
                Some(OnList::Take(row)) => self.done(Task::Sensor(row == 0)),
                Some(OnList::Back) => self.leave(press),
                None => Actions::none(),
            },
        }
    }

    /// A line of the list was taken.
    fn take(&mut self, context: &Context<'_>, row: BenchCheck) -> Actions {
        match row {
            BenchCheck::Supply => {
                let Some(supply) = context.health.supply else {
                    return Actions::none();
                };
                self.stage = Stage::Meter(i32::from(supply.0) / STEP);
            }
            BenchCheck::Rate | BenchCheck::Noise | BenchCheck::Empty => self.stage = Stage::Empty(Task::EmptyPan),
            BenchCheck::Drift => self.stage = Stage::Empty(Task::Drift),
            BenchCheck::Span => self.stage = Stage::Mass(100 / STEP),
            BenchCheck::Keys => return Action::Check(Task::Keys).into(),
            BenchCheck::Panel => self.stage = Stage::Edges,
            BenchCheck::Sensor if context.air.is_some() => return Action::Check(Task::Sensor(true)).into(),
            BenchCheck::Sensor => self.stage = Stage::Fitted(Highlight::default()),
            BenchCheck::Buzzer => {
                self.stage = Stage::Heard(Highlight::default());
                return Action::Check(Task::Tone).into();
            }
            BenchCheck::Flash | BenchCheck::Reset | BenchCheck::Boot => return Action::Check(Task::Chip).into(),
        }
        Actions::none()
    }

    /// Back to the list, with this to do.
    fn done(&mut self, task: Task) -> Actions {
        self.stage = Stage::List;
        Action::Check(task).into()
    }

    /// Back to the list by ZERO.
    fn leave(&mut self, press: Press) -> Actions {
        if press == Press::Short(Key::Zero) {
            self.back_to_list()
        } else {
            Actions::none()
        }
    }

    fn back_to_list(&mut self) -> Actions {
        self.stage = Stage::List;
        Actions::none()
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        if let Some(under_way) = context.sheet.under_way() {
            return self.under_way(context, under_way);
        }
        let guide = |say, value| {
            let guide = guide(context, Word::BenchCheck, say, value);
            (guide, [KeyWord::Back, KeyWord::Take, KeyWord::Nothing])
        };
        match self.stage {
            Stage::List => list(Word::BenchCheck, self.highlight, &|place| {
                let &check = ROWS.get(place)?;
                Some(item(check.word(), result(context, check)))
            }),
            Stage::Meter(reads) => {
                let value = Value::Quantity(reads.saturating_mul(STEP), Word::Millivolts);
                edit(Word::MeterReads, value, KeyWord::Ok)
            }
            Stage::Mass(steps) => {
                let value = Value::Mass(Milligrams::from_grams(steps.saturating_mul(STEP)));
                edit(Word::KnownMass, value, KeyWord::Ok)
            }
            Stage::Empty(_) => guide(Word::EmptyThePan, Value::Nothing),
            Stage::PutOn(grams) => guide(Word::PutOnPan, Value::Mass(Milligrams::from_grams(grams.into()))),
            Stage::Edges => (Body::Edges, [KeyWord::Back, KeyWord::Ok, KeyWord::Next]),
            Stage::Heard(highlight) => words(Word::BuzzerHeard, highlight, &HEARD),
            Stage::Fitted(highlight) => words(Word::SensorFitted, highlight, &FITTED),
        }
    }

    fn under_way(&self, context: &Context<'_>, under_way: &UnderWay) -> Shows {
        match under_way.task {
            Task::Frame => (Body::Edges, [KeyWord::Nothing, KeyWord::Ok, KeyWord::Next]),
            Task::Keys => {
                let left = |pressed: u8| Value::Number(PRESSES.saturating_sub(pressed).into());
                let names = ["ZERO", "MARK", "NEXT"];
                let presses = under_way.presses();
                let (body, _) = list(Word::PressEachKey, Highlight(u8::MAX), &|place| {
                    Some(Item {
                        label: ItemLabel::Name(names.get(place)?),
                        value: left(*presses.get(place)?),
                    })
                });
                (body, [KeyWord::Nothing; 3])
            }
            Task::EmptyPan
            | Task::Drift
            | Task::KnownMass(_)
            | Task::Supply(_)
            | Task::Edges(_)
            | Task::Sensor(_)
            | Task::Tone
            | Task::Heard(_)
            | Task::Chip
            | Task::Stop => {
                let seconds = under_way.seconds_left(context.clock);
                let value = Value::Quantity(seconds.into(), Word::Seconds);
                let guide = guide(context, Word::BenchCheck, Word::Measuring, value);
                (guide, [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing])
            }
        }
    }
}

const HEARD: [Word; 3] = [Word::Yes, Word::No, Word::OnceMore];
const FITTED: [Word; 2] = [Word::Yes, Word::No];

/// What came out of a check, as its line shows it: a number with what to think of it, or that alone.
fn result(context: &Context<'_>, check: BenchCheck) -> Value {
    let mg_per_count = context.scale.calibration().mg_per_count();
    match context.book.checks().of(check) {
        None => Value::Nothing,
        Some(checked) => match told(check, checked, mg_per_count) {
            (None, verdict) => Value::Word(verdict),
            (Some((number, unit)), verdict) => Value::Checked(number, unit, verdict),
        },
    }
}

/// What came out of a check: a number with its unit, where a person can do something with it, and the verdict.
pub(crate) fn told(check: BenchCheck, checked: Checked, mg_per_count: f32) -> (Option<(i32, Word)>, Word) {
    let verdict = match checked.passed {
        None => Word::NoLimit,
        Some(true) => Word::Passed,
        Some(false) => Word::Failed,
    };
    let milligrams = |counts: i32| whole(counts as f32 / 1_000.0 * mg_per_count);
    let number = match check {
        BenchCheck::Supply => (checked.value, Word::Millivolts),
        BenchCheck::Rate => (checked.value.saturating_add(500) / 1_000, Word::EachSecond),
        BenchCheck::Noise if checked.value >= 0 => (milligrams(checked.value), Word::MilligramsShort),
        BenchCheck::Drift if checked.value != i32::MAX => (milligrams(checked.value), Word::MilligramsAMinute),
        BenchCheck::Span => (checked.value, Word::EachGram),
        BenchCheck::Boot if checked.value != i32::MAX => (checked.value, Word::Milliseconds),
        BenchCheck::Noise
        | BenchCheck::Drift
        | BenchCheck::Empty
        | BenchCheck::Keys
        | BenchCheck::Panel
        | BenchCheck::Sensor
        | BenchCheck::Buzzer
        | BenchCheck::Flash
        | BenchCheck::Reset
        | BenchCheck::Boot => return (None, verdict),
    };
    (Some(number), verdict)
}

impl BenchCheck {
    /// Its name on the screen.
    pub(crate) const fn word(self) -> Word {
        match self {
            Self::Supply => Word::Supply,
            Self::Rate => Word::Rate,
            Self::Noise => Word::Noise,
            Self::Span => Word::Span,
            Self::Drift => Word::Drift,
            Self::Keys => Word::KeyBounce,
            Self::Panel => Word::PanelEdges,
            Self::Sensor => Word::HumiditySensor,
            Self::Buzzer => Word::Buzzer,
            Self::Flash => Word::FlashNumber,
            Self::Reset => Word::LastReset,
            Self::Boot => Word::FirstNumber,
            Self::Empty => Word::EmptyPanCounts,
        }
    }
}
