//! The bowls: which is on the pan, a new one tared, and one tared again, given another number or forgotten.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::journal::{Record, Setting};
use crate::measured::Measured;
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};
use crate::sock::BowlNumber;
use crate::units::Milligrams;
use crate::weighing::SteadyLoad;

/// The bowls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BowlsPage {
    stage: Stage,
    /// The load that can be tared.
    load: Option<SteadyLoad>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    /// Which one is on the pan.
    Which(Highlight),
    /// Which one is to change.
    Change(Highlight),
    /// What is to change about it.
    How(BowlNumber, Highlight),
    /// Which number it gets.
    Number(BowlNumber, Highlight),
}

/// A line of the list.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Row {
    None,
    Known(BowlNumber),
    New(BowlNumber, SteadyLoad),
    Change,
}

/// What can change about a bowl. The first one does no harm.
const DEEDS: [Word; 3] = [Word::BowlOtherNumber, Word::BowlTareAgain, Word::BowlForget];

/// Nine bowls, a new one, none, and the way to changing them.
const ROWS: usize = 12;

impl BowlsPage {
    /// A load that is steady, or was when the finger came, can become a new bowl.
    pub(super) fn open(context: &Context<'_>) -> Self {
        let latched = context.latched.filter(|&(key, _)| key == Key::Zero);
        let steady = latched
            .map(|(_, load)| load)
            .or(context.scale.steady())
            .filter(|load| context.scale.gross(load).value >= EMPTY_BELOW);
        let mut page = Self {
            stage: Stage::Which(Highlight::default()),
            load: steady,
        };
        // The empty bowl itself, or the one in use: most likely it is that.
        let likely = page.bare(context).or(context.book.bowls().in_use());
        let row = page
            .rows(context)
            .iter()
            .position(|&row| Some(row) == likely.map(Row::Known));
        page.stage = Stage::Which(Highlight(row.and_then(|row| u8::try_from(row).ok()).unwrap_or(0)));
        page
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let bowls = context.book.bowls();
        match &mut self.stage {
            Stage::Which(highlight) => {
                let mut moved = *highlight;
                let rows = self.rows(context);
                let pressed = moved.press(press, rows.len());
                self.stage = Stage::Which(moved);
                match pressed {
                    Some(OnList::Back) => Actions::go(To::Pan),
                    Some(OnList::Take(row)) => match rows.get(row) {
                        Some(Row::Change) => {
                            self.stage = Stage::Change(Highlight::default());
                            Actions::none()
                        }
                        row => row.map_or_else(Actions::none, |row| row.take(context)),
                    },
                    None => Actions::none(),
                }
            }
            Stage::Change(highlight) => {
                match highlight.press(press, bowls.all().count()) {
                    Some(OnList::Back) => *self = Self::open(context),
                    Some(OnList::Take(row)) => {
                        if let Some((number, _)) = bowls.all().nth(row) {
                            self.stage = Stage::How(number, Highlight::default());
                        }
                    }
                    None => {}
                }
                Actions::none()
            }
            Stage::How(number, highlight) => {
                let number = *number;
                match highlight.press(press, DEEDS.len()) {
                    Some(OnList::Back) => self.stage = Stage::Change(Highlight::default()),
                    Some(OnList::Take(row)) => return self.change(context, number, row),
                    None => {}
                }
                Actions::none()
            }
            Stage::Number(number, highlight) => {
                let number = *number;
                match highlight.press(press, free(context).len()) {
                    Some(OnList::Back) => self.stage = Stage::How(number, Highlight::default()),
                    Some(OnList::Take(row)) => {
                        let mass = bowls.of(Some(number));
                        let in_use = bowls.in_use() == Some(number);
                        if let Some(&to) = free(context).get(row) {
                            let moved = Actions::note(Record::Bowl { number: to, mass }).and(forget(number));
                            return if in_use {
                                moved.and(Action::Note(Record::Setting(Setting::BowlInUse(Some(to)))))
                            } else {
                                moved
                            }
                            .and_go(To::Pan);
                        }
                    }
                    None => {}
                }
                Actions::none()
            }
        }
    }

    fn change(&mut self, context: &Context<'_>, number: BowlNumber, row: usize) -> Actions {
        match DEEDS.get(row) {
            Some(Word::BowlTareAgain) => match self.load {
                Some(load) => {
                    let mass = context.scale.gross(&load);
                    Actions::note(Record::Bowl { number, mass }).and_go(To::Pan)
                }
                None => Action::Refuse(crate::screen::RefusedWord::EmptyPan).into(),
            },
            Some(Word::BowlForget) => Actions::from(forget(number)).and_go(To::Pan),
            Some(_) | None => {
                self.stage = Stage::Number(number, Highlight::default());
                Actions::none()
            }
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let bowls = context.book.bowls();
        let known = |(number, mass): (BowlNumber, Measured)| Item {
            label: ItemLabel::Bowl(number),
            value: Value::Mass(mass.value),
        };
        let plain = |label| Item {
            label,
            value: Value::Nothing,
        };
        let (title, items, highlight) = match self.stage {
            Stage::Which(highlight) => {
                let rows = self.rows(context);
                let items = rows.into_iter().map(|row| row.item(context));
                // Twelve at the most.
                (Word::WhichBowl, items.collect(), highlight)
            }
            Stage::Change(highlight) => (Word::BowlsChange, bowls.all().map(known).collect(), highlight),
            Stage::How(number, highlight) => {
                let mut items: Vec<Item, { crate::screen::MAX_ROWS }> =
                    DEEDS.into_iter().map(|word| plain(ItemLabel::Word(word))).collect();
                if let Some(first) = items.first_mut() {
                    first.value = Value::Number(number.0.into());
                }
                (Word::BowlsChange, items, highlight)
            }
            Stage::Number(_, highlight) => {
                let items = free(context).into_iter().map(|number| plain(ItemLabel::Bowl(number)));
                (Word::BowlOtherNumber, items.collect(), highlight)
            }
        };
        let list = List {
            title,
            items,
            selected: highlight.0,
        };
        (Body::List(list), LIST_KEYS)
    }

    /// A new bowl stands first only where no known one can be what lies on the pan.
    fn rows(&self, context: &Context<'_>) -> Vec<Row, ROWS> {
        let bowls = context.book.bowls();
        let gross = self.load.map(|load| context.scale.gross(&load).value);
        let fits = bowls
            .all()
            .any(|(_, mass)| gross.is_some_and(|gross| mass.value <= gross + SAME_BOWL));
        let new = bowls.free().zip(self.load).map(|(number, load)| Row::New(number, load));
        let known = bowls.all().map(|(number, _)| Row::Known(number));
        let change = bowls.all().next().map(|_| Row::Change);
        new.filter(|_| !fits)
            .into_iter()
            .chain(known)
            .chain(core::iter::once(Row::None))
            .chain(new.filter(|_| fits))
            .chain(change)
            .collect()
    }

    /// The known bowl that the load is, empty.
    fn bare(&self, context: &Context<'_>) -> Option<BowlNumber> {
        let gross = context.scale.gross(&self.load?).value;
        let mut bowls = context.book.bowls().all();
        let bare = bowls.find(|(_, mass)| (mass.value - gross).abs() <= SAME_BOWL);
        bare.map(|(number, _)| number)
    }
}

impl Row {
    fn item(self, context: &Context<'_>) -> Item {
        match self {
            Self::None => Item {
                label: ItemLabel::Word(Word::NoBowl),
                value: Value::Nothing,
            },
            Self::Known(number) => Item {
                label: ItemLabel::Bowl(number),
                value: Value::Mass(context.book.bowls().of(Some(number)).value),
            },
            Self::New(number, load) => Item {
                label: ItemLabel::NewBowl(number),
                value: Value::Mass(context.scale.gross(&load).value),
            },
            Self::Change => Item {
                label: ItemLabel::Word(Word::BowlsChange),
                value: Value::Nothing,
            },
        }
    }

    fn take(self, context: &Context<'_>) -> Actions {
        let (new, bowl) = match self {
            Self::None | Self::Change => (Actions::none(), None),
            Self::Known(number) => (Actions::none(), Some(number)),
            Self::New(number, load) => {
                let mass = context.scale.gross(&load);
                (Actions::note(Record::Bowl { number, mass }), Some(number))
            }
        };
        new.and(Action::Note(Record::Setting(Setting::BowlInUse(bowl))))
            .and_go(To::Pan)
    }
}

/// Numbers that no bowl has.
fn free(context: &Context<'_>) -> Vec<BowlNumber, 9> {
    let numbers = (1..=9).map(BowlNumber);
    numbers
        .filter(|&number| context.book.bowls().mass(number).is_none())
        .collect()
}

/// A bowl that weighs nothing is none.
fn forget(number: BowlNumber) -> Action {
    let mass = Measured::default();
    Action::Note(Record::Bowl { number, mass })
}

/// The same bowl weighs the same within this: a drop of water, a crumb of wool.
const SAME_BOWL: Milligrams = Milligrams(500);
