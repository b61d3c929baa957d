//! The device's own time by the calendar, where a computer has set its clock and it has run since.

use core::fmt;

use heapless::Deque;

use crate::journal::{Entry, Record};
use crate::units::Stamp;

/// Settings of the clock that are remembered, the latest ones.
const KEPT: usize = 16;

/// When the clock was set, and until when it is known to have run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Calendar {
    spans: Deque<Span, KEPT>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Span {
    from: Stamp,
    /// The first moment at which it had stopped.
    until: Stamp,
    unix: u64,
}

impl Calendar {
    /// Learns from a record of the marks or of the visits; those of the visits come last, as in every reading of a journal.
    pub fn learn(&mut self, entry: &Entry) {
        if let Record::ClockSet { unix } = entry.record {
            if self.spans.is_full() {
                self.spans.pop_front();
            }
            // There is room now.
            let _ = self.spans.push_back(Span {
                from: entry.at,
                until: Stamp(u32::MAX),
                unix,
            });
        } else if let Record::Started(_) = entry.record {
            self.stopped(entry.at);
        }
    }

    /// The device started at this time: whoever knew the calendar before does not know it any more.
    fn stopped(&mut self, at: Stamp) {
        for span in self.spans.iter_mut().filter(|span| span.from < at) {
            span.until = span.until.min(at);
        }
    }

    /// Starts from before this time are not in the journal any more: a clock that was set before may have stopped since.
    pub fn forget_before(&mut self, oldest: Stamp) {
        for span in self.spans.iter_mut().filter(|span| span.from < oldest) {
            span.until = span.from;
        }
    }

    /// What the clock was set to last, seconds since 1970 UTC.
    #[must_use]
    pub fn set_last(&self) -> Option<u64> {
        self.spans.back().map(|span| span.unix)
    }

    /// Seconds since 1970 UTC at a time of the device.
    #[must_use]
    pub fn unix(&self, at: Stamp) -> Option<u64> {
        let span = self.spans.iter().rev().find(|span| span.from <= at)?;
        let ran = at.0.checked_sub(span.from.0)?;
        (at < span.until).then_some(span.unix.saturating_add(ran.into()))
    }

    /// The date and time of day, UTC.
    #[must_use]
    pub fn date(&self, at: Stamp) -> Option<Date> {
        self.unix(at).map(Date::of)
    }
}

/// A date and a time of day, UTC. Shown as ISO 8601 with a blank between: `2027-01-09 12:00`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Date {
    /// Year, month from 1, day from 1.
    pub day: [u16; 3],
    /// Hour, minute, second.
    pub time: [u16; 3],
}

impl Date {
    /// From seconds since 1970; beyond the year 9999 it stays there.
    #[must_use]
    pub fn of(unix: u64) -> Self {
        let second = u32::try_from(unix % 86_400).unwrap_or_default();
        let mut days = u32::try_from(unix / 86_400).unwrap_or(u32::MAX);
        let mut year: u16 = 1970;
        while days >= days_of(year) && year < 9_999 {
            days = days.saturating_sub(days_of(year));
            year = year.saturating_add(1);
        }
        let mut month: u16 = 1;
        let february = days_of(year).saturating_sub(337);
        for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30] {
            if days < length {
                break;
            }
            days = days.saturating_sub(length);
            month = month.saturating_add(1);
        }
        let narrow = |value: u32| u16::try_from(value).unwrap_or_default();
        Self {
            day: [year, month, narrow(days.saturating_add(1))],
            time: [narrow(second / 3_600), narrow(second / 60 % 60), narrow(second % 60)],
        }
    }
}

/// Days of a year by the Gregorian rule.
const fn days_of(year: u16) -> u32 {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    if leap { 366 } else { 365 }
}

impl fmt::Display for Date {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ([year, month, day], [hour, minute, _]) = (self.day, self.time);
        write!(out, "{year:04}-{month:02}-{day:02} {hour:02}:{minute:02}")
    }
}
