//! The bowls: which is on the pan, a new one tared, and one tared again, given another number or forgotten.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::context::{Context, EMPTY_BELOW};
use super::highlight::{Highlight, OnList};
use super::keys::{Key, Press};
use super::shows::{Shows, item, list};
use crate::journal::{Record, Setting};
use crate::measured::Measured;
use crate::screen::{Item, ItemLabel, RefusedWord, Value, Word};
use crate::sock::BowlNumber;
use crate::units::Milligrams;
use crate::weighing::SteadyLoad;

/// The bowls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct BowlsPage {
    about: About,
    highlight: Highlight,
    /// The load that can be tared.
    load: Option<SteadyLoad>,
}

/// What the list asks.
#[derive(Clone, Copy, Debug, PartialEq)]
enum About {
    /// Which one is on the pan.
    Which,
    /// Which one is to change.
    Change,
    /// What is to change about it.
    How(BowlNumber),
}

/// A line of the list.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Row {
    None,
    Known(BowlNumber),
    New(BowlNumber),
    Change,
    TareAgain,
    OtherNumber(BowlNumber),
    Forget(BowlNumber),
}

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
            about: About::Which,
            highlight: Highlight::default(),
            load: steady,
        };
        // The empty bowl itself, or the one in use: most likely it is that.
        let likely = page.bare(context).or(context.book.bowls().in_use());
        let mut rows = page.rows(context).into_iter().zip(0_u8..);
        let row = rows.find(|&(row, _)| Some(row) == likely.map(Row::Known));
        page.highlight = Highlight(row.map_or(0, |(_, place)| place));
        page
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let rows = self.rows(context);
        let row = match (self.highlight.press(press, rows.len()), self.about) {
            (None, _) => return Actions::none(),
            (Some(OnList::Back), About::Which) => return Actions::go(To::Pan),
            (Some(OnList::Back), About::Change | About::How(_)) => {
                *self = Self::open(context);
                return Actions::none();
            }
            (Some(OnList::Take(row)), _) => rows.get(row).copied(),
        };
        match (row, self.about) {
            (Some(Row::Change), _) => self.ask(About::Change),
            (Some(Row::Known(number)), About::Change) => self.ask(About::How(number)),
            (Some(row), about) => self.take(context, row, about),
            (None, _) => Actions::none(),
        }
    }

    fn ask(&mut self, about: About) -> Actions {
        self.about = about;
        self.highlight = Highlight::default();
        Actions::none()
    }

    fn take(&self, context: &Context<'_>, row: Row, about: About) -> Actions {
        let tared = self.load.map(|load| context.scale.gross(&load));
        let noted = |number, mass| Action::Note(Record::Bowl { number, mass });
        let in_use = |bowl| Action::Note(Record::Setting(Setting::BowlInUse(bowl)));
        let mut actions = Actions::none();
        match (row, about) {
            (Row::None | Row::Change, _) => actions = actions.and(in_use(None)),
            (Row::Known(number), _) => actions = actions.and(in_use(Some(number))),
            (Row::New(number), _) => {
                actions = actions
                    .and(noted(number, tared.unwrap_or_default()))
                    .and(in_use(Some(number)));
            }
            (Row::OtherNumber(to), About::How(number)) => {
                let bowls = context.book.bowls();
                actions = actions
                    .and(noted(to, bowls.of(Some(number))))
                    .and(noted(number, FORGOTTEN));
                if bowls.in_use() == Some(number) {
                    actions = actions.and(in_use(Some(to)));
                }
            }
            (Row::TareAgain, About::How(number)) => match tared {
                Some(mass) => actions = actions.and(noted(number, mass)),
                None => return Action::Refuse(RefusedWord::EmptyPan).into(),
            },
            (Row::Forget(number), _) => actions = actions.and(noted(number, FORGOTTEN)),
            // Both stand only where it is asked how a bowl is to change.
            (Row::OtherNumber(_) | Row::TareAgain, About::Which | About::Change) => {}
        }
        actions.and_go(To::Pan)
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let title = match self.about {
            About::Which => Word::WhichBowl,
            About::Change | About::How(_) => Word::BowlsChange,
        };
        let rows = self.rows(context);
        list(title, self.highlight, &|place| {
            Some(self.item(context, *rows.get(place)?))
        })
    }

    fn item(&self, context: &Context<'_>, row: Row) -> Item {
        let gross = || {
            let gross = self.load.map(|load| context.scale.gross(&load).value);
            gross.map_or(Value::Nothing, Value::Mass)
        };
        match row {
            Row::None => item(Word::NoBowl, Value::Nothing),
            Row::Known(number) => Item {
                label: ItemLabel::Bowl(number),
                value: Value::Mass(context.book.bowls().of(Some(number)).value),
            },
            Row::New(number) => Item {
                label: ItemLabel::NewBowl(number),
                value: gross(),
            },
            Row::Change => item(Word::BowlsChange, Value::Nothing),
            Row::TareAgain => item(Word::BowlTareAgain, gross()),
            Row::OtherNumber(number) => item(Word::BowlOtherNumber, Value::Number(number.0.into())),
            Row::Forget(number) => item(Word::BowlForget, Value::Number(number.0.into())),
        }
    }

    /// A new bowl stands first only where no known one can be what lies on the pan.
    fn rows(&self, context: &Context<'_>) -> Vec<Row, ROWS> {
        let bowls = context.book.bowls();
        let mut rows = Vec::new();
        // Twelve at the most.
        let mut push = |row| {
            let _ = rows.push(row);
        };
        let gross = self.load.map(|load| context.scale.gross(&load).value);
        let fits = |mass: Measured| gross.is_some_and(|gross| mass.value <= gross + SAME_BOWL);
        let new_is_first = !bowls.all().any(|(_, mass)| fits(mass));
        let new = bowls.free().filter(|_| gross.is_some()).map(Row::New);
        match self.about {
            About::Which => {
                if new_is_first && let Some(new) = new {
                    push(new);
                }
            }
            About::Change => {}
            About::How(_) => push(Row::TareAgain),
        }
        for number in (1..=9).map(BowlNumber) {
            match (self.about, bowls.mass(number)) {
                (About::Which | About::Change, Some(_)) => push(Row::Known(number)),
                (About::How(_), None) => push(Row::OtherNumber(number)),
                (About::Which | About::Change, None) | (About::How(_), Some(_)) => {}
            }
        }
        match self.about {
            About::Which => {
                push(Row::None);
                if !new_is_first && let Some(new) = new {
                    push(new);
                }
                if bowls.all().next().is_some() {
                    push(Row::Change);
                }
            }
            About::Change => {}
            About::How(number) => push(Row::Forget(number)),
        }
        rows
    }

    /// The known bowl that the load is, empty.
    fn bare(&self, context: &Context<'_>) -> Option<BowlNumber> {
        let gross = context.scale.gross(&self.load?).value;
        let mut bowls = context.book.bowls().all();
        let bare = bowls.find(|(_, mass)| (mass.value - gross).abs() <= SAME_BOWL);
        bare.map(|(number, _)| number)
    }
}

/// A bowl of no weight is a forgotten one.
const FORGOTTEN: Measured = Measured {
    value: Milligrams::ZERO,
    u: 0.0,
};

/// The same bowl weighs the same within this: a drop of water, a crumb of wool.
const SAME_BOWL: Milligrams = Milligrams(500);
