//! The plan with its cursor.

use heapless::Vec;

use super::action::{Action, Actions, To};
use super::context::Context;
use super::highlight::{Highlight, LIST_KEYS, OnList};
use super::keys::{Key, Press};
use super::shows::Shows;
use crate::screen::{self, Body, LineState, MAX_ROWS, PlanRow};

/// The plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PlanPage {
    highlight: Highlight,
}

impl PlanPage {
    pub(super) const fn at(line: u8) -> Self {
        Self {
            highlight: Highlight(line),
        }
    }

    pub(super) fn press(&mut self, context: &Context<'_>, press: Press) -> Actions {
        if press == Press::Held(Key::Mark) {
            return Action::Undo.into();
        }
        let plan = context.ledger().plan();
        match self.highlight.press(press, plan.lines.len()) {
            Some(OnList::Back) => Actions::go(To::Pan),
            Some(OnList::Take(_)) if plan.line(self.highlight.0).is_some() => Actions::go(To::Line(self.highlight.0)),
            Some(OnList::Take(_)) | None => Actions::none(),
        }
    }

    pub(super) fn view(&self, context: &Context<'_>) -> Shows {
        let mut rows: Vec<PlanRow, MAX_ROWS> = Vec::new();
        for (line, place) in context.ledger().plan().lines.iter().zip(0_u8..) {
            let state = match context.ledger().used(place) {
                Some(used) => LineState::Done(used),
                None if context.ledger().is_skipped(place) => LineState::Skipped,
                None => LineState::Open,
            };
            // A plan has no more lines than a page has rows.
            let _ = rows.push(PlanRow { line: *line, state });
        }
        let body = Body::Plan(screen::PlanPage {
            rows,
            cursor: context.cursor,
            selected: self.highlight.0,
        });
        (body, LIST_KEYS)
    }
}
