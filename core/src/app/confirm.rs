//! What is said once the journal has taken a record. Nothing is shown as noted before.

use super::application::App;
use crate::board::Tone;
use crate::journal::{Entry, JournalFault, PairEvent, Record, Sequence, Setting};
use crate::ledger::Purpose;
use crate::measured::Measured;
use crate::screen::{Notice, RefusedWord};
use crate::sock::YarnLetter;
use crate::ui::{Page, RestPage, To};

impl App {
    /// The record is in the journal: take it into the state and say so.
    pub(super) fn confirm(&mut self, entry: &Entry) {
        let event = entry.record.pair_event(self.book.begun()).map(|(_, event)| event);
        let done = self.done_lines();
        let before = match event {
            Some(PairEvent::Amended { of, .. }) => self.used_at(of),
            _ => None,
        };
        self.enter(entry);
        if let Record::Calibrated(_) = entry.record
            && !self.book.ledger().is_open()
        {
            // On a new device the plan comes next.
            self.go(To::Presets);
        }
        if let Record::PairBegun { .. } | Record::Setting(Setting::PairInHand(_)) = entry.record {
            self.pair_changed();
        }
        if let Record::PairClosed { .. } = entry.record {
            self.pair_changed();
            self.condense_closed();
            self.go(To::Summary);
            self.sound(Tone::Noted);
        }
        // One that weighs nothing is forgotten.
        if let Record::Bowl { number, mass } = entry.record
            && self.book.bowls().mass(number).is_some()
        {
            self.show(Notice::BowlNoted { number, mass });
        }
        if let Some(event) = event {
            self.confirm_event(entry.sequence, &event, before, done);
        }
    }

    fn confirm_event(&mut self, sequence: Sequence, event: &PairEvent, before: Option<Measured>, done: u32) {
        match *event {
            PairEvent::WeighIn { .. }
            | PairEvent::Mark { .. }
            | PairEvent::Unplanned { .. }
            | PairEvent::LateMark { .. }
            | PairEvent::Carried { .. } => {
                // A late mark is of an earlier load; the one in flight is still to come.
                let is_late = matches!(event, PairEvent::LateMark { .. });
                if let Some(load) = self.marking.in_flight.take_if(|_| !is_late) {
                    self.stay.remember(sequence, load);
                }
                self.marking.taken_back = 0;
                self.chosen_line = None;
                self.say_step(sequence);
                self.sound(Tone::Noted);
                self.last_section_done();
            }
            PairEvent::Undone { of } | PairEvent::TakenBack { of } => {
                self.stay.forget(of);
                self.marking.taken_back = self.marking.taken_back.saturating_add(1);
                // What is open again by it: of a late mark that had pushed another one on, that one's section.
                let open_again = done & !self.done_lines();
                let line = u8::try_from(open_again.trailing_zeros()).unwrap_or(u8::MAX);
                let line = self.book.ledger().plan().line(line);
                self.show(Notice::Undone { line });
            }
            PairEvent::Amended { of, .. } => self.say_amended(of, before),
            PairEvent::Skipped { line } => {
                self.chosen_line = None;
                if let Some(line) = self.book.ledger().plan().line(line) {
                    self.show(Notice::Skipped { line });
                }
                self.last_section_done();
            }
            PairEvent::LineChanged { .. }
            | PairEvent::Moved { .. }
            | PairEvent::Label { .. }
            | PairEvent::YarnNamed { .. }
            | PairEvent::Gauge(_) => {}
            // The page that asked for it shows what follows.
            PairEvent::Rounds { .. } => self.sound(Tone::Noted),
            PairEvent::Reopened => {
                self.pair_changed();
                self.sound(Tone::Noted);
            }
        }
    }

    /// With its last section a pair is finished: once the pan is empty, and the last weight corrected by that.
    fn last_section_done(&mut self) {
        let ledger = self.book.ledger();
        if ledger.is_open() && ledger.cursor().is_none() {
            self.marking.last_of_pair = Some(ledger.pair());
            if self.scale.is_empty() {
                self.finish_when_done();
            }
        }
    }

    /// A bit for each line of the plan that a mark has closed.
    fn done_lines(&self) -> u32 {
        let ledger = self.book.ledger();
        let lines = (0..u32::BITS).zip(0_u8..).filter(|&(_, line)| ledger.is_done(line));
        lines.fold(0, |done, (bit, _)| done | 1_u32.wrapping_shl(bit))
    }

    /// The journal did not take the record: the state is as it was, and the knitter is told.
    pub(super) fn not_noted(&mut self, fault: JournalFault) {
        self.marking.in_flight = None;
        self.refuse(match fault {
            JournalFault::Full => RefusedWord::JournalFull,
            JournalFault::Closed => RefusedWord::PairFinished,
            JournalFault::Flash
            | JournalFault::Unwritable
            | JournalFault::Uncondensed
            | JournalFault::Unsuitable
            | JournalFault::Restoring => RefusedWord::NotNoted,
        });
    }

    fn say_step(&mut self, sequence: Sequence) {
        let Some(place) = self
            .book
            .ledger()
            .steps()
            .iter()
            .position(|step| step.sequence == sequence)
        else {
            return;
        };
        let Some(step) = self.book.ledger().steps().get(place).copied() else {
            return;
        };
        let left = step.weight.net;
        let notice = match (step.purpose, self.book.ledger().used_at(place)) {
            (Purpose::Section(line), Some(used)) => {
                self.warn_if_short(step.yarn);
                let Some(line) = self.book.ledger().plan().line(line) else {
                    return;
                };
                Notice::Noted {
                    line,
                    used,
                    left: left.value,
                }
            }
            (Purpose::Unplanned, Some(went)) => Notice::Started {
                yarn: step.yarn,
                weight: left,
                unplanned: went.value,
            },
            (Purpose::WeighIn | Purpose::Section(_) | Purpose::Unplanned | Purpose::Carried(_), _) => {
                Notice::WeighedIn {
                    yarn: step.yarn,
                    weight: left,
                    short: RestPage::of(Some(step.yarn), &self.context()).missing(),
                }
            }
        };
        self.show(notice);
    }

    /// The earliest mark at which a yarn becomes short of the rest of the pair opens the answer, behind the notice.
    fn warn_if_short(&mut self, yarn: YarnLetter) {
        let rest = RestPage::of(Some(yarn), &self.context());
        if rest.is_short() {
            self.page = Page::Rest(rest);
            self.sound(Tone::Refused);
        }
    }

    /// What an amendment may change: what went since the weight of its yarn before it, of a first weight that itself.
    fn used_at(&self, of: Sequence) -> Option<Measured> {
        let ledger = self.book.ledger();
        let place = ledger.steps().iter().position(|step| step.sequence == of)?;
        ledger
            .used_at(place)
            .or_else(|| Some(ledger.steps().get(place)?.weight.net))
    }

    /// Says an amendment only if it changes a tenth on the screen.
    fn say_amended(&mut self, of: Sequence, before: Option<Measured>) {
        let tenths = |used: Measured| used.value.0.saturating_add(50).div_euclid(100);
        let Some(used) = self.used_at(of) else { return };
        let Some(step) = self.book.ledger().step(of) else {
            return;
        };
        let notice = match step.purpose {
            Purpose::Section(line) => Notice::Amended {
                line: self.book.ledger().plan().line(line),
                used,
            },
            Purpose::WeighIn => Notice::WeightAmended {
                yarn: step.yarn,
                weight: step.weight.net,
            },
            Purpose::Unplanned | Purpose::Carried(_) => return,
        };
        if before.map(tenths) != Some(tenths(used)) {
            self.show(notice);
        }
    }
}
