//! From the journal into the state: the book changes, and with it what the scale shows.

use super::application::App;
use super::input::Effect;
use crate::journal::{Entry, Record, Setting, StartCause};
use crate::screen::{Notice, RestartWord};
use crate::ui::To;
use crate::units::FineCounts;
use crate::weighing::Scale;

impl App {
    /// Takes a record that has just come into the journal into the state.
    pub(super) fn enter(&mut self, entry: &Entry) {
        let capacity = self.book.capacity();
        self.book.apply(entry);
        // Whatever a mark, an undo, an amendment or a label changed in the pair, the history changes with it.
        self.book.settle();
        // On another cell an empty pan proves its zero anew.
        if matches!(entry.record, Record::Calibrated(_)) || self.book.capacity() != capacity {
            self.scale = self.weighing(None);
        }
        if let Record::Setting(Setting::PanelOffset(column)) = entry.record {
            self.emit(Effect::PanelBegins(column));
        }
        if let Record::ClockSet { .. } = entry.record {
            // A clock that is set now is right whatever came before.
            self.restored = false;
        }
        if let Record::Setting(Setting::KeptFrom(_)) = entry.record {
            self.health.room = None;
            // There may have been none for the pair that was closed last.
            self.condense_closed();
        }
        self.show_net();
    }

    /// A scale as the book has it. `zero` is where the empty pan last stood.
    fn weighing(&self, zero: Option<FineCounts>) -> Scale {
        let calibration = self.book.calibration().copied();
        let calibration = calibration.unwrap_or(self.configuration.calibration_of(self.book.capacity()));
        self.configuration.scale(calibration, self.book.capacity(), zero)
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
        self.cause = cause;
        self.sleep.last_use = self.now;
        self.book.start(cause);
        self.started = self.stamp();
        self.scale = self.weighing(self.book.zero());
        self.book.weighed_on(self.scale.conditions());
        self.book.settle();
        self.show_net();
        self.converter_on();
        self.emit(Effect::PanelBegins(self.book.settings().panel.unwrap_or_default()));
        self.emit(Effect::Brightness(self.book.settings().panel_brightness()));
        // The very first start is not worth a record: a backup can be restored onto a journal that is blank. Nor is a restore until
        // something follows it: what is read out before is the backup to the last byte.
        self.restored = cause == StartCause::Restored;
        if !self.restored && (!self.book.is_blank() || cause != StartCause::PowerOn) {
            self.note(Record::Started(cause));
        }
        // A new device: whoever unpacks it can read what comes next.
        if !self.is_calibrated() && !self.book.settings().language_asked {
            self.go(To::Language);
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
