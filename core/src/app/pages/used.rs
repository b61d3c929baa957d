//! What each section took: sock 1, sock 2, the difference.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::{Page, Shows};
use crate::ledger::Purpose;
use crate::screen::{Body, KeyWord, MAX_ROWS, Used, UsedCell, UsedRow};
use crate::sock::Sock;

pub(super) fn view(app: &App, top: u8) -> Shows {
    let used = Used {
        rows: rows(app),
        total: app.book.ledger().total_used(),
        top,
    };
    (Body::Used(used), [KeyWord::Down, KeyWord::Mark, KeyWord::Next])
}

pub(super) fn press(app: &mut App, press: Press, top: u8) {
    match press {
        // The big key means the same on every daily page.
        Press::Short(Key::Mark) => {
            app.page = Page::Pan;
            app.mark();
        }
        Press::Held(Key::Mark) => app.undo(),
        Press::Short(Key::Zero) | Press::Held(Key::Zero) | Press::Again(Key::Zero) => {
            let rows = u8::try_from(rows(app).len()).unwrap_or(u8::MAX);
            let next = top.saturating_add(1);
            app.page = Page::Used {
                top: if next >= rows { 0 } else { next },
            };
        }
        Press::Short(Key::Next) => super::rest::open(app),
        Press::Held(Key::Next) => app.page = Page::Everything { selected: 0 },
        Press::Down(_) | Press::Again(_) => {}
    }
}

/// A row for each section of the plan with its counterpart on the other sock.
fn rows(app: &App) -> Vec<UsedRow, MAX_ROWS> {
    let plan = app.book.ledger().plan();
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
            first: first.and_then(|line| cell(app, line)),
            second: second.and_then(|line| cell(app, line)),
        };
        if rows.push(row).is_err() {
            break;
        }
    }
    rows
}

fn cell(app: &App, line: u8) -> Option<UsedCell> {
    let used = app.book.ledger().used(line)?;
    let mut marks = app
        .book
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
