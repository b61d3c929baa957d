//! How far? A cake is weighed, some rounds are knitted and counted, it is weighed again: what a round takes, and how many more there are
//! in it. The records of the ledger are all that the page stands on, so that it goes on where the power was cut.

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, OnList};
use super::keys::{Key, Press};
use super::shows::{Shows, guide, item, list};
use super::stepped::{OnValue, edit, stepped};
use crate::forecast::{Pace, cast_off, half_of, has_even_rounds, other_toe, pace};
use crate::journal::{PairEvent, Record};
use crate::math::ceil;
use crate::measured::Measured;
use crate::recognise::at_most;
use crate::screen::{Item, KeyWord, RefusedWord, Value, Word};
use crate::sock::{Line, YarnLetter};
use crate::units::Milligrams;

/// Rounds that are knitted between two weighings, at first.
const USUAL_ROUNDS: u16 = 5;
const MOST_ROUNDS: i32 = 200;
/// Lines of the answer.
const ROWS: usize = 5;

/// How far the cake reaches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct HowFarPage {
    highlight: Highlight,
    /// How many rounds were knitted, while that is set.
    rounds: Option<u16>,
    /// What the toe of the other sock needs, if it is knitted from this yarn: asked once, since it takes long.
    toe: Option<Milligrams>,
}

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
            highlight: Highlight::default(),
            rounds: None,
            toe: running.and_then(|(place, line)| other_toe(context.ledger(), place, line.yarn, history)),
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        if let Some(rounds) = self.rounds {
            match stepped(press, rounds.into(), 5, (0, MOST_ROUNDS)) {
                OnValue::Leave => self.rounds = None,
                OnValue::Done => return self.weigh(context, rounds),
                OnValue::Set(rounds) => self.rounds = u16::try_from(rounds).ok(),
            }
            return Actions::none();
        }
        let running = section(context).ok();
        let counted = running.map(|(place, line)| context.ledger().counted(place, line.yarn));
        let last = counted.unwrap_or_default().last();
        if press == Press::Held(Key::Mark) {
            return last.map_or_else(Actions::none, |last| {
                Actions::note(Record::Undone { of: last.sequence })
            });
        }
        match (
            self.highlight
                .press(press, ROWS.saturating_sub(self.toe.is_none().into())),
            last,
        ) {
            (Some(OnList::Back), _) => return Actions::go(To::Pan),
            (Some(OnList::Take(_)), None) => return self.weigh(context, 0),
            (Some(OnList::Take(_)), Some(last)) => {
                self.rounds = Some(if last.rounds == 0 { USUAL_ROUNDS } else { last.rounds });
            }
            (None, _) => {}
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
        self.rounds = None;
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
        if let Some(rounds) = self.rounds {
            let value = if rounds == 0 {
                Value::Word(Word::CountAnew)
            } else {
                Value::Number(rounds.into())
            };
            return edit(Word::RoundsKnitted, value, KeyWord::Take);
        }
        let section = section(context);
        let pace = section.map(|(place, line)| pace(context.ledger(), place, line.yarn));
        let (say, value, take) = match (section, pace) {
            (Ok(section), Ok(Some(pace))) => {
                let (body, [back, _, down]) = list(Word::RoundsLeft, self.highlight, &|row| {
                    self.item(context, section, pace, row)
                });
                return (body, [back, KeyWord::Take, down]);
            }
            (Err(why), _) | (_, Err(why)) => (why, Value::Nothing, KeyWord::Nothing),
            (Ok((place, line)), _) if context.ledger().counted(place, line.yarn).is_empty() => {
                (Word::HowFarBegin, Value::Nothing, KeyWord::Take)
            }
            (Ok(_), _) => {
                let usual = Value::Quantity(USUAL_ROUNDS.into(), Word::Rounds);
                (Word::HowFarKnit, usual, KeyWord::Take)
            }
        };
        let body = guide(context, Word::HowFar, say, value);
        (body, [KeyWord::Back, take, KeyWord::Nothing])
    }

    /// The rounds that are left before each of what can be kept back; then what that rests on.
    fn item(&self, context: &Context<'_>, (place, line): (u8, Line), pace: Pace, row: usize) -> Option<Item> {
        // Without a toe to come there is no line for it.
        let without = usize::from(row > 0 && self.toe.is_none());
        let (word, reserve) = match row.saturating_add(without) {
            0 => (Word::BeforeCastOff, Some(cast_off(pace))),
            1 => (Word::BeforeToe, self.toe),
            2 => (Word::BeforeHalf, half_of(context.ledger(), line.yarn)),
            3 => return Some(item(Word::EachRound, Value::Small(pace.per_round.into()))),
            4 => return Some(item(Word::RoundsCounted, Value::Number(pace.rounds.into()))),
            _ => return None,
        };
        let on_pan = context.section_on_pan().map(|(_, net)| net);
        let left = on_pan.or_else(|| newest(context, place, line.yarn)).unwrap_or_default();
        Some(item(word, Value::Rounds(pace.per_round.rounds_left(left, reserve?))))
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
