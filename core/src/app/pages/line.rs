//! What can be done with one line of the plan.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::Press;
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::journal::Record;
use crate::ledger::YarnLetter;
use crate::screen::{Body, Item, ItemLabel, List, Value, Word};

/// What can be done, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Deed {
    Next,
    ChangeYarn,
    EarlierVisit,
    Skip,
}

pub(super) fn view(app: &App, line: u8, selected: u8) -> Shows {
    let mut items = Vec::new();
    for deed in deeds(app, line) {
        let (word, value) = match deed {
            Deed::Next => (Word::KnitThisNext, Value::Nothing),
            Deed::ChangeYarn => (
                Word::ChangeYarn,
                app.ledger
                    .plan()
                    .line(line)
                    .map_or(Value::Nothing, |line| Value::Yarn(line.yarn)),
            ),
            Deed::EarlierVisit => (Word::ForgottenMark, Value::Nothing),
            Deed::Skip => (Word::SkipSection, Value::Nothing),
        };
        // Four deeds fit.
        let _ = items.push(Item {
            label: ItemLabel::Word(word),
            value,
        });
    }
    let title = Word::ThisSection;
    (Body::List(List { title, items, selected }), LIST_KEYS)
}

pub(super) fn press(app: &mut App, press: Press, line: u8, selected: u8) {
    let deeds = deeds(app, line);
    match on_list(press, selected, deeds.len()) {
        OnList::Back => app.page = Page::Plan { selected: line },
        OnList::Highlight(selected) => app.page = Page::Line { line, selected },
        OnList::Take => {
            if let Some(&deed) = deeds.get(usize::from(selected)) {
                act(app, line, selected, deed);
            }
        }
        OnList::Nothing => {}
    }
}

fn deeds(app: &App, line: u8) -> Vec<Deed, 4> {
    let mut deeds = Vec::new();
    let open = !app.ledger.is_done(line) && !app.ledger.is_skipped(line);
    let in_order = [
        (Deed::Next, open),
        (Deed::ChangeYarn, open),
        (Deed::EarlierVisit, true),
        (Deed::Skip, open),
    ];
    for (deed, _) in in_order.into_iter().filter(|&(_, offered)| offered) {
        // Four fit.
        let _ = deeds.push(deed);
    }
    deeds
}

fn act(app: &mut App, line: u8, selected: u8, deed: Deed) {
    match deed {
        Deed::Next => {
            app.chosen_line = Some(line);
            app.page = Page::Pan;
        }
        Deed::ChangeYarn => {
            if let Some(mut changed) = app.ledger.plan().line(line) {
                changed.yarn = after(changed.yarn);
                app.note(Record::LineChanged {
                    index: line,
                    line: changed,
                });
            }
            app.page = Page::Line { line, selected };
        }
        Deed::EarlierVisit => app.page = Page::Visits { line, selected: 0 },
        Deed::Skip => {
            app.note(Record::Skipped { line });
            app.page = Page::Pan;
        }
    }
}

/// The next letter, A after the last.
fn after(yarn: YarnLetter) -> YarnLetter {
    let next = YarnLetter::ALL.get(yarn.index().saturating_add(1));
    next.copied().unwrap_or(YarnLetter::A)
}
