//! What the application asks of the shell and says to the knitter.

use super::application::App;
use super::input::Effect;
use crate::board::Tone;
use crate::journal::{Named, PairEvent, Record, StartCause};
use crate::screen::{Notice, RefusedWord};
use crate::ui::{DriveShows, Page};
use crate::units::Duration;

/// How long a notice stays if no key is pressed and the pan is left alone.
const NOTICE_TIME: Duration = Duration::from_secs(6);
/// How long it stays once the load is lifted.
const READING_TIME: Duration = Duration::from_secs(2);

impl App {
    pub(super) fn emit(&mut self, effect: Effect) {
        if self.effects.push_back(effect).is_err() {
            self.dropped_effects = self.dropped_effects.saturating_add(1);
        }
    }

    /// Asks the journal to note a record, unless the supply could fail during the write.
    pub(super) fn note(&mut self, record: Record) {
        if self.health.supply.is_some_and(|supply| supply < self.cut_offs().write) {
            self.refuse(RefusedWord::SupplyLow);
        } else {
            if core::mem::take(&mut self.restored) {
                self.emit(Effect::Append(Record::Started(StartCause::Restored)));
            }
            let pair = self.book.ledger().pair();
            // What is done to a pair that was finished last shows that it is not finished.
            let knits_on = || {
                let event = record.pair_event(pair);
                event.is_some_and(|(of, event)| of == pair && event.is_knitting())
            };
            if self.book.needles().closed() == Some(pair) && knits_on() {
                let event = PairEvent::Reopened;
                self.emit(Effect::Append(Record::OfPair { pair, event }));
            }
            let record = self.of_pair_in_hand(record);
            self.emit(Effect::Append(record));
        }
    }

    /// The record with the number of the pair that it is about: each open pair has its own yarns A to H.
    #[must_use]
    pub fn of_pair_in_hand(&self, record: Record) -> Record {
        let ledger = self.book.ledger();
        let pair = ledger.pair();
        // A yarn of a finished pair can be named too. What a yarn is made of is for what will be knitted from it.
        let event = if let Record::Yarn { letter: yarn, label } = record
            && ledger.is_open()
        {
            PairEvent::Label { yarn, label }
        } else if let Record::Named {
            what: Named::Yarn(yarn),
            ref name,
        } = record
            && pair > 0
        {
            let name = name.clone();
            PairEvent::YarnNamed { yarn, name }
        } else {
            return record.of_pair(pair);
        };
        Record::OfPair { pair, event }
    }

    pub(super) fn show(&mut self, notice: Notice) {
        self.notice = Some((notice, self.now + NOTICE_TIME));
    }

    /// What a computer sees of the drive. Once the files are there, the knitter learns that they stay as they are, unless she is busy.
    pub(super) fn drive_shows(&mut self, shows: DriveShows) {
        let are_there = self.health.drive == DriveShows::Soon && shows == DriveShows::News;
        self.health.drive = shows;
        let at_leisure = matches!(self.page, Page::Pan(_) | Page::Everything(_)) && self.notice.is_none();
        if are_there && at_leisure && !self.is_busy() {
            self.show(Notice::Drive);
        }
    }

    /// Hands are at work again: what was said is read by now, or soon.
    pub(super) fn shorten_notice(&mut self) {
        if let Some((_, until)) = &mut self.notice {
            *until = (*until).min(self.now + READING_TIME);
        }
    }

    pub(super) fn refuse(&mut self, word: RefusedWord) {
        self.show(Notice::Refused(word));
        self.sound(Tone::Refused);
    }

    pub(super) fn sound(&mut self, tone: Tone) {
        if self.book.settings().sound {
            self.emit(Effect::Beep(tone));
        }
    }
}
