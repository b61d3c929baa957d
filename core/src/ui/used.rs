//! What each section took: sock 1, sock 2, the difference.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::Highlight;
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::ledger::Purpose;
use crate::screen::{Body, KeyWord, MAX_ROWS, Used, UsedCell, UsedRow};
use crate::sock::Sock;

/// The sections that are done, from the first visible row on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct UsedPage {
    top: Highlight,
}

impl UsedPage {
    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        match press {
            // The big key means the same on every daily page.
            Press::Short(Key::Mark) => Actions::go(To::Pan).and(Action::Mark),
            Press::Held(Key::Mark) => Action::Undo.into(),
            // NEXT turns the page here, so that ZERO goes down as well as up.
            Press::Short(Key::Zero) => self.scroll(context, Press::Short(Key::Next)),
            Press::Held(Key::Zero) | Press::Again(Key::Zero) => self.scroll(context, press),
            Press::Short(Key::Next) => Actions::go(To::Rest(None)),
            Press::Held(Key::Next) => Actions::go(To::Everything),
            Press::Down(_) | Press::Again(Key::Mark | Key::Next) => Actions::none(),
        }
    }

    fn scroll(&mut self, context: &Context<'_>, press: Press) -> Actions {
        // It neither goes back nor takes anything.
        let _ = self.top.press(press, rows(context).len());
        Actions::none()
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let used = Used {
            rows: rows(context),
            total: context.ledger().total_used(),
            top: self.top.0,
        };
        (Body::Used(used), [KeyWord::DownOrUp, KeyWord::Mark, KeyWord::Next])
    }
}

/// A row for each section of the plan with its counterpart on the other sock.
fn rows(context: &Context<'_>) -> Vec<UsedRow, MAX_ROWS> {
    let plan = context.ledger().plan();
    let mut rows = Vec::new();
    for (place, line) in plan.lines.iter().enumerate() {
        let Ok(place) = u8::try_from(place) else { break };
        let twin = plan.counterpart(place);
        // A second sock's line stands in its twin's row.
        if line.sock == Sock::Second && twin.is_some() {
            continue;
        }
        let (first, second) = match line.sock {
            Sock::First => (Some(place), twin),
            Sock::Second => (None, Some(place)),
        };
        let row = UsedRow {
            kind: line.kind,
            yarn: line.yarn,
            first: first.and_then(|line| cell(context, line)),
            second: second.and_then(|line| cell(context, line)),
        };
        if rows.push(row).is_err() {
            break;
        }
    }
    rows
}

fn cell(context: &Context<'_>, line: u8) -> Option<UsedCell> {
    let used = context.ledger().used(line)?;
    let mut marks = context
        .ledger()
        .steps()
        .iter()
        .filter(|step| step.purpose == Purpose::Section(line));
    let amended = marks.clone().any(|step| step.amended);
    let doubtful = marks.any(|step| step.doubtful);
    Some(UsedCell {
        used,
        amended,
        doubtful,
    })
}
