//! How far? A cake is weighed, some rounds are knitted and counted, it is weighed again: what a round takes, and how many more there are
//! in it. The records of the ledger are all that the page stands on, so that it goes on where the power was cut.

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::Shows;
use super::stepped::stepped;
use crate::forecast::how_far::{Pace, cast_off, half_of, has_even_rounds, other_toe, pace};
use crate::journal::{PairEvent, Record};
use crate::math::ceil;
use crate::measured::Measured;
use crate::recognise::at_most;
use crate::screen::{Body, Edit, Guide, HowFar, Item, ItemLabel, KeyWord, List, RefusedWord, Value, Word};
use crate::sock::{Line, YarnLetter};
use crate::units::Milligrams;

/// Rounds that are knitted between two weighings, at first.
const USUAL_ROUNDS: u16 = 5;
const MOST_ROUNDS: i32 = 200;

/// How far the cake reaches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HowFarPage {
    stage: Stage,
    keep: Keep,
    /// What the toe of the other sock needs, if it is knitted from this yarn: asked once, since it takes long.
    toe: Option<Milligrams>,
    /// The next weighing begins the counting.
    anew: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Answer,
    Options(Highlight),
    /// How many rounds were knitted.
    Rounds(u16),
}

/// What is kept back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Keep {
    CastOff,
    OtherToe,
    Half,
}

/// A line of the options.
const OPTIONS: [Option<Keep>; 4] = [Some(Keep::CastOff), Some(Keep::OtherToe), Some(Keep::Half), None];

/// The running section, if rounds can be counted in it, else why not.
fn section(context: &Context<'_>) -> Result<(u8, Line), Word> {
    let section = context.cursor.zip(context.section());
    let weighed_in = |line: &Line| context.ledger().last(line.yarn).is_some();
    match section {
        Some((place, line)) if weighed_in(&line) && has_even_rounds(line.kind) => Ok((place, line)),
        Some((_, line)) if weighed_in(&line) => Err(Word::HowFarShaped),
        Some(_) | None => Err(Word::HowFarFirst),
    }
}

impl HowFarPage {
    pub(super) fn open(context: &Context<'_>) -> Self {
        let running = section(context).ok();
        let history = context.book.history();
        Self {
            stage: Stage::Answer,
            keep: Keep::CastOff,
            toe: running.and_then(|(place, line)| other_toe(context.ledger(), place, line.yarn, history)),
            anew: false,
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match self.stage {
            Stage::Answer => self.press_on_answer(context, press),
            Stage::Options(mut highlight) => {
                let taken = highlight.press(press, OPTIONS.len());
                self.stage = match taken {
                    Some(_) => Stage::Answer,
                    None => Stage::Options(highlight),
                };
                if let Some(OnList::Take(row)) = taken {
                    match OPTIONS.get(row).copied().flatten() {
                        Some(keep) => self.keep = keep,
                        None => self.anew = true,
                    }
                }
                Actions::none()
            }
            Stage::Rounds(rounds) => match press {
                Press::Held(Key::Mark) => {
                    self.stage = Stage::Answer;
                    Actions::none()
                }
                Press::Short(Key::Mark) => self.weigh(context, rounds),
                Press::Short(Key::Zero | Key::Next)
                | Press::Held(Key::Zero | Key::Next)
                | Press::Down(_)
                | Press::Again(_) => {
                    let rounds = stepped(press, rounds.into(), 5).clamp(1, MOST_ROUNDS);
                    self.stage = Stage::Rounds(u16::try_from(rounds).unwrap_or(USUAL_ROUNDS));
                    Actions::none()
                }
            },
        }
    }

    fn press_on_answer(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let Ok((place, line)) = section(context) else {
            return match press {
                Press::Short(Key::Zero) => Actions::go(To::Pan),
                Press::Short(_) | Press::Down(_) | Press::Held(_) | Press::Again(_) => Actions::none(),
            };
        };
        let counted = context.ledger().counted(place, line.yarn);
        match press {
            Press::Short(Key::Zero) => return Actions::go(To::Pan),
            Press::Short(Key::Mark) if self.anew || counted.is_empty() => return self.weigh(context, 0),
            Press::Short(Key::Mark) => {
                let last = counted.last().map_or(0, |last| last.rounds);
                self.stage = Stage::Rounds(if last == 0 { USUAL_ROUNDS } else { last });
            }
            Press::Held(Key::Mark) => {
                if let Some(last) = counted.last() {
                    return Actions::note(Record::Undone { of: last.sequence });
                }
            }
            Press::Short(Key::Next) => self.stage = Stage::Options(Highlight::default()),
            Press::Down(_) | Press::Held(Key::Zero | Key::Next) | Press::Again(_) => {}
        }
        Actions::none()
    }

    /// Notes what lies on the pan, if it can be the cake with so many rounds knitted from it.
    fn weigh(&mut self, context: &Context<'_>, rounds: u16) -> Actions {
        let Ok((place, line)) = section(context) else {
            return Actions::none();
        };
        let latched = context.latched.filter(|&(key, _)| key == Key::Mark);
        let Some(load) = latched.map(|(_, load)| load).or(context.scale.steady()) else {
            return Action::Refuse(RefusedWord::NotSteady).into();
        };
        let gross = context.scale.gross(&load);
        if gross.value < EMPTY_BELOW {
            return Action::Refuse(RefusedWord::EmptyPan).into();
        }
        let weight = context.weight(gross, context.book.bowls().in_use());
        let used = match newest(context, place, line.yarn) {
            Some(before) => before.minus(weight.net),
            None => return Actions::none(),
        };
        let unsure = Milligrams(ceil(3.0 * used.u)).max(DIVISION);
        let most = at_most(context.ledger(), place).unwrap_or(Milligrams(i32::MAX));
        if used.value + unsure < Milligrams::ZERO || used.value > most {
            return Action::Refuse(RefusedWord::OtherCake).into();
        }
        if rounds > 0 && used.value < unsure {
            return Action::Refuse(RefusedWord::NothingKnitted).into();
        }
        self.stage = Stage::Answer;
        self.anew = false;
        let event = PairEvent::Rounds {
            line: place,
            yarn: line.yarn,
            weight,
            rounds,
        };
        let pair = context.ledger().pair();
        Actions::note(Record::OfPair { pair, event })
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let guide = |say, value| {
            Body::Guide(Guide {
                title: Word::HowFar,
                say,
                value,
                steady: context.scale.steady().is_some(),
            })
        };
        let (place, line) = match section(context) {
            Ok(section) => section,
            Err(why) => {
                return (
                    guide(why, Value::Nothing),
                    [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing],
                );
            }
        };
        let pace = pace(context.ledger(), place, line.yarn).filter(|_| !self.anew);
        match self.stage {
            Stage::Options(highlight) => (self.options(context, line.yarn, pace, highlight), LIST_KEYS),
            Stage::Rounds(rounds) => {
                let edit = Edit {
                    title: Word::RoundsKnitted,
                    value: Value::Number(rounds.into()),
                    hint: Some(Word::HoldMarkToLeave),
                };
                (Body::Edit(edit), [KeyWord::Less, KeyWord::Take, KeyWord::More])
            }
            Stage::Answer => {
                let begun = !self.anew && !context.ledger().counted(place, line.yarn).is_empty();
                let body = match pace {
                    Some(pace) => self.answer(context, (place, line), pace),
                    None if begun => guide(Word::HowFarKnit, Value::Quantity(i32::from(USUAL_ROUNDS), Word::Rounds)),
                    None => guide(Word::HowFarBegin, Value::Nothing),
                };
                (body, [KeyWord::Back, KeyWord::Take, KeyWord::List])
            }
        }
    }

    fn answer(&self, context: &Context<'_>, (place, line): (u8, Line), pace: Pace) -> Body {
        let on_pan = context.section_on_pan().map(|(_, net)| net);
        let left = on_pan.or_else(|| newest(context, place, line.yarn)).unwrap_or_default();
        let (word, reserve) = match (self.keep, self.toe, half_of(context.ledger(), line.yarn)) {
            (Keep::OtherToe, Some(toe), _) => (Word::KeepToe, toe),
            (Keep::Half, _, Some(half)) => (Word::KeepHalf, half),
            (Keep::CastOff | Keep::OtherToe | Keep::Half, _, _) => (Word::KeepCastOff, cast_off(pace)),
        };
        Body::HowFar(HowFar {
            yarn: line.yarn,
            pace,
            left: pace.per_round.rounds_left(left, reserve),
            keep: (word, reserve),
        })
    }

    fn options(&self, context: &Context<'_>, yarn: YarnLetter, pace: Option<Pace>, highlight: Highlight) -> Body {
        let mass = |mass: Option<Milligrams>| mass.map_or(Value::Word(Word::NotKnown), Value::Mass);
        let items = OPTIONS.map(|option| {
            let (word, value) = match option {
                Some(Keep::CastOff) => (Word::KeepCastOff, mass(pace.map(cast_off))),
                Some(Keep::OtherToe) => (Word::KeepToe, mass(self.toe)),
                Some(Keep::Half) => (Word::KeepHalf, mass(half_of(context.ledger(), yarn))),
                None => (Word::CountAnew, Value::Nothing),
            };
            Item {
                label: ItemLabel::Word(word),
                value,
            }
        });
        Body::List(List {
            title: Word::KeepBack,
            items: items.into_iter().collect(),
            selected: highlight.0,
        })
    }
}

/// What the yarn weighed when it was weighed last, by a mark or between rounds.
fn newest(context: &Context<'_>, place: u8, yarn: YarnLetter) -> Option<Measured> {
    let ledger = context.ledger();
    let step = ledger.last(yarn)?;
    let counted = ledger.counted(place, yarn).last();
    let counted = counted.filter(|counted| counted.sequence > step.sequence);
    Some(counted.map_or(step.weight.net, |counted| counted.weight.net))
}

/// Less than a division is no difference.
const DIVISION: Milligrams = Milligrams(100);
