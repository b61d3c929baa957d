//! The pairs on the needles: begin one, go on with one, close one; and where the one in hand stands.

use heapless::Vec;

use super::application::App;
use crate::journal::{PairEvent, Record, Setting};
use crate::sock::{Label, Order, Preset, YARNS, YarnLetter};
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

    /// Begins the next pair. The others stay open.
    pub(super) fn begin_pair(&mut self, preset: Preset, order: Order) {
        self.condense_closed();
        let pair = self.book.begun().saturating_add(1);
        let lines = preset.lines(order);
        // Its yarns are likely such as the last ones were.
        let mut labels: Vec<(YarnLetter, Label), YARNS> = Vec::new();
        for yarn in YarnLetter::ALL {
            if let Some(label) = self.book.ledger().own_label(yarn)
                && lines.iter().any(|line| line.yarn == yarn)
            {
                // There are as many places as letters.
                let _ = labels.push((yarn, label));
            }
        }
        self.note(Record::PairBegun { pair, lines });
        if self.book.needles().was_choice_noted() {
            self.note(Record::Setting(Setting::PairInHand(pair)));
        }
        for (yarn, label) in labels {
            let event = PairEvent::Label { yarn, label };
            self.note(Record::OfPair { pair, event });
        }
        self.go(To::Pan);
    }

    /// The pair in hand is finished.
    pub(super) fn finish_pair(&mut self) {
        let pair = self.book.ledger().pair();
        self.note(Record::PairClosed { pair });
    }

    /// The pair that was finished last is not finished after all.
    pub(super) fn reopen_pair(&mut self) {
        if let Some(pair) = self.book.needles().closed() {
            let event = PairEvent::Reopened;
            self.note(Record::OfPair { pair, event });
        }
    }

    /// Its last section is done: as soon as its last weight is as good as it gets, the pair is finished.
    pub(super) fn finish_when_done(&mut self) {
        let ledger = self.book.ledger();
        let was_marked_last = core::mem::take(&mut self.marking.last_of_pair);
        if was_marked_last == Some(ledger.pair()) && ledger.is_open() && ledger.cursor().is_none() {
            self.finish_pair();
        }
    }

    /// Another pair is in hand, or the same one in another state.
    pub(super) fn pair_changed(&mut self) {
        self.chosen_line = None;
        self.proposal = None;
        self.marking.taken_back = 0;
    }

    /// Notes the last pair in short, if it is closed and that is still to be done.
    pub(super) fn condense_closed(&mut self) {
        if let Some(record) = self.book.to_condense() {
            self.note(record);
        }
    }
}
