//! A journal that is not on flash: what the application asks to note is noted at once, under the next number.
//!
//! For whatever has no flash to run the device's own loop on: recordings, generated stories, tests of the application.

use yarn_scale_core::app::{App, Effect, Input};
use yarn_scale_core::journal::{Entry, JournalFault, Record, Sequence};
use yarn_scale_core::units::Instant;

/// The number of the record noted last, and whether the next one is refused.
#[derive(Clone, Copy, Debug, Default)]
pub struct Paper {
    /// The number noted last; 0 before the first.
    pub last: Sequence,
    /// What every record is refused with, if it is.
    pub refuse: Option<JournalFault>,
}

/// What was done with an effect.
#[derive(Debug)]
pub enum Done {
    /// It was noted, and the application knows.
    Noted(Entry),
    /// It was refused, and the application knows.
    Refused,
    /// No record: whoever stands for the board sees to it.
    Left(Effect),
}

impl Paper {
    /// Does the next thing that the application asks for; `None` if it asks for nothing more.
    pub fn obey(&mut self, app: &mut App, now: Instant) -> Option<Done> {
        let record = loop {
            match app.poll()? {
                Effect::Append(record) => break record,
                Effect::AskAnew => app.handle(now, Input::AskAnew),
                other => return Some(Done::Left(other)),
            }
        };
        if let Some(fault) = self.refuse {
            app.handle(now, Input::Appended(Err(fault)));
            return Some(Done::Refused);
        }
        let entry = self.entry(app, record);
        app.handle(now, Input::Appended(Ok(&entry)));
        Some(Done::Noted(entry))
    }

    /// The record as it is noted now.
    pub fn entry(&mut self, app: &App, record: Record) -> Entry {
        self.last = Sequence(self.last.0 + 1);
        Entry {
            sequence: self.last,
            at: app.stamp(),
            record,
        }
    }
}
