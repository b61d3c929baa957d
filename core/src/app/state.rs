//! From the journal into the state: the only way in which it changes, at start-up as in use.

use super::dispatch::App;
use super::input::Effect;
use super::visits::Visit;
use crate::journal::{Entry, Record, Setting, StartCause};
use crate::screen::{Notice, RestartWord};

impl App {
    /// Takes a record of the journal into the state, at start-up.
    pub(super) fn replay(&mut self, entry: &Entry) {
        self.clock.learn(entry.at);
        self.adopt(entry);
    }

    /// Takes a record that is in the journal into the state. The same for replay and for what was noted just now.
    pub(super) fn adopt(&mut self, entry: &Entry) {
        if let Record::PairBegun { .. } = entry.record {
            self.remember_pair();
        }
        // A record that contradicts the ledger stays in the journal and out of the sums; the sign says so.
        if self.ledger.apply(entry).is_err() {
            self.status.doubtful = true;
        }
        match &entry.record {
            Record::Bowl { number, mass } => self.bowls.remember(*number, *mass),
            Record::Calibrated(calibration) => {
                self.configuration.calibration = *calibration;
                self.calibrated = true;
                self.calibrated_at = entry.at;
                // An older zero says nothing on another calibration's empty pan.
                self.stored_zero = None;
                self.scale = self.configuration.scale(None);
                self.ledger.weighed_on(self.scale.conditions());
            }
            Record::Setting(Setting::BowlInUse(bowl)) => self.bowls.use_bowl(*bowl),
            Record::Setting(setting) => self.settings.set(*setting),
            Record::Condensed { pair, sections } => {
                self.condensed = self.condensed.max(*pair);
                self.history
                    .record(super::needs::condensed_record(&self.ledger, *pair, sections));
            }
            // A clock that is set now is right whatever came before.
            Record::ClockSet { .. } => self.restored = false,
            Record::Started(StartCause::Watchdog) => self.health.hangs = self.health.hangs.saturating_add(1),
            Record::Started(StartCause::Panic(_)) => self.health.errors = self.health.errors.saturating_add(1),
            Record::Visit { gross, bowl, zero } => {
                self.visits.push(Visit {
                    at: entry.at,
                    gross: *gross,
                    bowl: *bowl,
                });
                // Replay gives visits after all else.
                if entry.at >= self.calibrated_at {
                    self.stored_zero = Some(*zero);
                }
            }
            _ => {}
        }
        self.show_net();
    }

    /// The display shows the net of the bowl in use, in the chosen unit.
    fn show_net(&mut self) {
        if self.scale.tared() != Some(self.bowls.tare()) {
            self.scale.tare(self.bowls.tare());
        }
        if self.scale.unit() != self.settings.unit {
            self.scale.set_unit(self.settings.unit);
        }
    }

    /// The running pair's records join the history.
    pub(super) fn remember_pair(&mut self) {
        if self.ledger.pair() > 0 {
            self.history.record(super::needs::pair_record(&self.ledger));
        }
    }

    /// All of the journal is in the state: begin to weigh.
    pub(super) fn ready(&mut self, cause: StartCause) {
        if cause == StartCause::PowerOn {
            self.clock.was_off();
        }
        self.scale = self.configuration.scale(self.stored_zero);
        self.ledger.weighed_on(self.scale.conditions());
        self.show_net();
        // As if every record had just been noted.
        self.remember_pair();
        self.converter_on();
        self.emit(Effect::Brightness(self.settings.panel_brightness()));
        // The very first start is not worth a record: a backup can be restored onto a journal that is blank. Nor is a restore until
        // something follows it: what is read out before is the backup to the last byte.
        self.restored = cause == StartCause::Restored;
        if !self.restored && (!self.clock.is_blank() || cause != StartCause::PowerOn) {
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
