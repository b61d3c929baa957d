//! A mark taken back or given to another section: what changes is shown before it is done.

use heapless::Vec;

use super::action::{Actions, To};
use super::context::Context;
use super::highlight::{Highlight, OnList};
use super::keys::{Key, Press};
use super::shows::{Shows, list};
use crate::journal::{Entry, PairEvent, Record, Sequence};
use crate::ledger::{Ledger, Purpose, Step};
use crate::screen::{Body, Item, ItemLabel, KeyWord, List, MAX_ROWS, Value, Word};
use crate::units::Milligrams;

/// What is to change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Change {
    /// The mark is taken back.
    TakeBack(Sequence),
    /// The mark belongs to the section at this place of the plan.
    Move(Sequence, u8),
}

impl Change {
    fn record(self, ledger: &Ledger) -> Record {
        Record::OfPair {
            pair: ledger.pair(),
            event: match self {
                Self::TakeBack(of) => PairEvent::TakenBack { of },
                Self::Move(of, line) => PairEvent::Moved { of, line },
            },
        }
    }
}

/// The newest mark that closed a section.
pub(super) fn mark_of(ledger: &Ledger, line: u8) -> Option<Sequence> {
    let closed = |step: &&Step| step.purpose == Purpose::Section(line);
    ledger.steps().iter().rev().find(closed).map(|step| step.sequence)
}

/// What taking back or moving a mark will change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct ChangePage {
    /// The line whose mark it is.
    pub(super) line: u8,
    /// What is to change.
    pub(super) change: Change,
}

impl ChangePage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match press {
            Press::Short(Key::Zero) => Actions::go(To::Line(self.line)),
            Press::Short(Key::Mark) => {
                let record = self.change.record(context.ledger());
                Actions::note(record).and_go(To::Plan(Some(self.line)))
            }
            Press::Short(Key::Next) | Press::Down(_) | Press::Held(_) | Press::Again(_) => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let list = List {
            title: match self.change {
                Change::TakeBack(_) => Word::TakesBack,
                Change::Move(..) => Word::Moves,
            },
            items: rows(context, self.change),
            // None is highlighted: MARK does all of it.
            selected: u8::MAX,
        };
        (Body::List(list), [KeyWord::Back, KeyWord::Ok, KeyWord::Nothing])
    }
}

/// Each section that the change concerns, before and after. Tried on a copy: whatever it does to any section is seen.
fn rows(context: &Context<'_>, change: Change) -> Vec<Item, MAX_ROWS> {
    let before = context.ledger();
    let mut after = before.clone();
    // One that cannot be done changes nothing, and shows so.
    let _ = after.apply(&Entry {
        sequence: Sequence(u32::MAX),
        at: context.now,
        record: change.record(before),
    });
    let used = |ledger: &Ledger, line| ledger.used(line).map(|used| used.value);
    let mut rows = Vec::new();
    for (section, line) in before.plan().lines.iter().zip(0_u8..) {
        let (was, will_be) = (used(before, line), used(&after, line));
        if was != will_be {
            // A plan has at most as many lines as a list has rows.
            let _ = rows.push(Item {
                label: ItemLabel::Section(section.kind, section.sock),
                value: Value::Change(was, will_be),
            });
        }
    }
    // What no section takes any more goes to what is weighed next of the yarn.
    let to_come = before.total_used().value - after.total_used().value;
    if to_come > Milligrams::ZERO {
        let _ = rows.push(Item {
            label: ItemLabel::Word(Word::NextMarkTakes),
            value: Value::Mass(to_come),
        });
    }
    rows
}

/// To which section a mark is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct MoveToPage {
    line: u8,
    highlight: Highlight,
}

impl MoveToPage {
    pub(super) fn of(line: u8) -> Self {
        Self {
            line,
            highlight: Highlight::default(),
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        let open = open_lines(context, self.line);
        match self.highlight.press(press, open.len()) {
            Some(OnList::Back) => Actions::go(To::Line(self.line)),
            Some(OnList::Take(row)) => {
                let change = mark_of(context.ledger(), self.line).zip(open.get(row));
                change.map_or_else(Actions::none, |(of, &to)| {
                    Actions::go(To::Change(self.line, Change::Move(of, to)))
                })
            }
            None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let open = open_lines(context, self.line);
        list(Word::MoveTo, self.highlight, &|place| {
            let section = context.ledger().plan().line(*open.get(place)?)?;
            Some(Item {
                label: ItemLabel::Section(section.kind, section.sock),
                value: Value::Yarn(section.yarn),
            })
        })
    }
}

/// The open sections that a mark can be given to.
fn open_lines(context: &Context<'_>, line: u8) -> Vec<u8, MAX_ROWS> {
    let ledger = context.ledger();
    let end = u8::try_from(ledger.plan().lines.len()).unwrap_or(u8::MAX);
    let open = |&place: &u8| place != line && !ledger.is_done(place) && !ledger.is_skipped(place);
    (0..end).filter(open).take(MAX_ROWS).collect()
}
