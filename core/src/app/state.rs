//! From the journal into the state: the book changes, and with it what the scale shows.

use super::application::App;
use super::input::Effect;
use crate::journal::{Entry, Record, StartCause};
use crate::screen::{Notice, RestartWord};

impl App {
    /// Takes a record that has just come into the journal into the state.
    pub(super) fn enter(&mut self, entry: &Entry) {
        self.book.apply(entry);
        // Whatever a mark, an undo, an amendment or a label changed in the pair, the history changes with it.
        self.book.settle();
        match &entry.record {
            Record::Calibrated(calibration) => self.scale = self.configuration.scale(*calibration, None),
            // A clock that is set now is right whatever came before.
            Record::ClockSet { .. } => self.restored = false,
            _ => {}
        }
        self.show_net();
    }

    /// The display shows the net of the bowl in use, in the chosen unit.
    fn show_net(&mut self) {
        let tare = self.book.bowls().tare();
        if self.scale.tared() != Some(tare) {
            self.scale.tare(tare);
        }
        let unit = self.book.settings().unit;
        if self.scale.unit() != unit {
            self.scale.set_unit(unit);
        }
    }

    /// All of the journal is in the book: begin to weigh.
    pub(super) fn ready(&mut self, cause: StartCause) {
        self.book.start(cause);
        let calibration = self.book.calibration().copied();
        let calibration = calibration.unwrap_or(self.configuration.calibration);
        self.scale = self.configuration.scale(calibration, self.book.zero());
        self.book.weighed_on(self.scale.conditions());
        self.book.settle();
        self.show_net();
        self.converter_on();
        self.emit(Effect::Brightness(self.book.settings().panel_brightness()));
        // The very first start is not worth a record: a backup can be restored onto a journal that is blank. Nor is a restore until
        // something follows it: what is read out before is the backup to the last byte.
        self.restored = cause == StartCause::Restored;
        if !self.restored && (!self.book.is_blank() || cause != StartCause::PowerOn) {
            self.note(Record::Started(cause));
        }
        // Power may have failed between closing the last pair and condensing it.
        self.condense_closed();
        match cause {
            StartCause::PowerOn | StartCause::Restored => {}
            StartCause::Watchdog => self.show(Notice::Restarted(RestartWord::Hang)),
            StartCause::Panic(code) => self.show(Notice::Restarted(RestartWord::Error(code))),
        }
    }
}
