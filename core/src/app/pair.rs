//! The running pair: begin, and where it stands.

use super::application::App;
use crate::journal::Record;
use crate::ledger::condense;
use crate::sock::{Order, Preset};
use crate::ui::To;

impl App {
    /// What the next mark closes: the line that was chosen on the plan page, else the ledger's next one.
    pub(super) fn cursor(&self) -> Option<u8> {
        let open = |line: &u8| !self.book.ledger().is_done(*line) && !self.book.ledger().is_skipped(*line);
        self.chosen_line
            .filter(open)
            .or_else(|| self.book.ledger().cursor())
            .filter(|_| self.book.ledger().is_open())
    }

    /// Begins the next pair; a running one is closed first.
    pub(super) fn begin_pair(&mut self, preset: Preset, order: Order) {
        if self.book.ledger().is_open() {
            self.note(Record::PairClosed {
                pair: self.book.ledger().pair(),
            });
            self.note(condense(self.book.ledger()));
        } else {
            self.condense_closed();
        }
        let pair = self.book.ledger().begun().saturating_add(1);
        self.note(Record::PairBegun {
            pair,
            lines: preset.lines(order),
        });
        self.chosen_line = None;
        self.go(To::Pan);
    }

    /// Notes the last pair in short, if it is closed and that is still to be done.
    pub(super) fn condense_closed(&mut self) {
        if let Some(record) = self.book.to_condense() {
            self.note(record);
        }
    }
}
