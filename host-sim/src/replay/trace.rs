//! `trace.csv`: one converter sample a line, as recorded.

use std::io::BufRead;

use yarn_scale_core::converter::RawSample;
use yarn_scale_core::units::{Counts, Duration, Instant};

use super::column::{TimeUnit, columns, integer, time_in};
use crate::failure::BadInput;
use crate::lines::Lines;

/// A sample and when it came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimedSample {
    /// Time since the beginning of the recording's clock.
    pub at: Instant,
    /// What the converter gave.
    pub raw: RawSample,
}

/// The samples of a trace, read one at a time.
#[derive(Debug)]
pub struct Trace<R> {
    lines: Lines<R>,
    unit: TimeUnit,
    /// A row with the same word that comes sooner after the one before is that conversion read twice.
    twice_within: Duration,
    last: Option<TimedSample>,
}

impl<R: BufRead> Trace<R> {
    /// Checks the header of a trace in milliseconds.
    ///
    /// # Errors
    /// [`BadInput`] if it is another.
    pub fn new(lines: Lines<R>) -> Result<Self, BadInput> {
        Self::of_logger(lines, TimeUnit::Milliseconds, Duration(0))
    }

    /// The same of a logger whose clock counts in `unit` and that may write a conversion down again within `twice_within`.
    ///
    /// # Errors
    /// [`BadInput`] if the header is not that of the unit.
    pub fn of_logger(mut lines: Lines<R>, unit: TimeUnit, twice_within: Duration) -> Result<Self, BadInput> {
        lines.expect_header(match unit {
            TimeUnit::Milliseconds => "t_ms,raw",
            TimeUnit::Seconds => "t_s,raw",
            TimeUnit::Microseconds => "t_us,raw",
        })?;
        Ok(Self {
            lines,
            unit,
            twice_within,
            last: None,
        })
    }

    /// The next conversion, or `None` at the end; one that is written down twice comes once.
    ///
    /// # Errors
    /// [`BadInput`] for anything but two integers, a time that goes back or counts outside the converter's 24 bits.
    pub fn next_sample(&mut self) -> Result<Option<TimedSample>, BadInput> {
        loop {
            let Some(line) = self.lines.next_line()? else {
                return Ok(None);
            };
            let last = self.last.map_or(Instant(0), |last| last.at);
            let sample = parse(line, self.unit, last).map_err(|reason| self.lines.complain(reason))?;
            let again = self
                .last
                .is_some_and(|last| last.raw == sample.raw && sample.at.since(last.at) < self.twice_within);
            if !again {
                self.last = Some(sample);
                return Ok(Some(sample));
            }
        }
    }

    /// A complaint about the line read last.
    pub fn complain(&self, reason: &str) -> BadInput {
        self.lines.complain(reason)
    }
}

fn parse(line: &str, unit: TimeUnit, last: Instant) -> Result<TimedSample, String> {
    let (time, raw) = columns(line)?;
    let at = time_in(unit, time, last)?;
    let raw = integer("raw", raw)?;
    let counts = i32::try_from(raw).ok().filter(|raw| COUNTS.contains(raw));
    let counts = counts.ok_or_else(|| format!("raw {raw} is outside signed 24 bits"))?;
    Ok(TimedSample {
        at,
        raw: RawSample(Counts(counts)),
    })
}

/// What a 24-bit converter can give.
pub const COUNTS: std::ops::RangeInclusive<i32> = -(1 << 23)..=(1 << 23) - 1;
