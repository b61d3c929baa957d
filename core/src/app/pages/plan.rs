//! The plan with its cursor.

use heapless::Vec;

use super::super::dispatch::App;
use super::super::keys::{Key, Press};
use super::{LIST_KEYS, OnList, Page, Shows, on_list};
use crate::screen::{Body, LineState, MAX_ROWS, PlanPage, PlanRow};

pub(super) fn view(app: &App, selected: u8) -> Shows {
    let mut rows: Vec<PlanRow, MAX_ROWS> = Vec::new();
    for (line, place) in app.book.ledger().plan().lines.iter().zip(0_u8..) {
        let state = match app.book.ledger().used(place) {
            Some(used) => LineState::Done(used),
            None if app.book.ledger().is_skipped(place) => LineState::Skipped,
            None => LineState::Open,
        };
        // A plan has no more lines than a page has rows.
        let _ = rows.push(PlanRow { line: *line, state });
    }
    (
        Body::Plan(PlanPage {
            rows,
            cursor: app.cursor(),
            selected,
        }),
        LIST_KEYS,
    )
}

pub(super) fn press(app: &mut App, press: Press, selected: u8) {
    if press == Press::Held(Key::Mark) {
        return app.undo();
    }
    match on_list(press, selected, app.book.ledger().plan().lines.len()) {
        OnList::Back => app.page = Page::Pan,
        OnList::Take if app.book.ledger().plan().line(selected).is_some() => {
            app.page = Page::Line {
                line: selected,
                selected: 0,
            };
        }
        OnList::Highlight(selected) => app.page = Page::Plan { selected },
        OnList::Take | OnList::Nothing => {}
    }
}
