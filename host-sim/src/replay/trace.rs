//! `trace.csv`: one converter sample a line, as recorded.

use std::io::BufRead;

use yarn_scale_core::converter::RawSample;
use yarn_scale_core::units::{Counts, Instant};

use super::column::{columns, integer, time};
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
    last: Instant,
}

impl<R: BufRead> Trace<R> {
    /// Checks the header.
    ///
    /// # Errors
    /// [`BadInput`] if it is another.
    pub fn new(mut lines: Lines<R>) -> Result<Self, BadInput> {
        lines.expect_header("t_ms,raw")?;
        Ok(Self {
            lines,
            last: Instant(0),
        })
    }

    /// The next sample, or `None` at the end.
    ///
    /// # Errors
    /// [`BadInput`] for anything but two integers, a time that goes back or counts outside the converter's 24 bits.
    pub fn next_sample(&mut self) -> Result<Option<TimedSample>, BadInput> {
        let Some(line) = self.lines.next_line()? else {
            return Ok(None);
        };
        match parse(line, self.last) {
            Ok(sample) => {
                self.last = sample.at;
                Ok(Some(sample))
            }
            Err(reason) => Err(self.lines.complain(reason)),
        }
    }

    /// A complaint about the line read last.
    pub fn complain(&self, reason: &str) -> BadInput {
        self.lines.complain(reason)
    }
}

fn parse(line: &str, last: Instant) -> Result<TimedSample, String> {
    let (t_ms, raw) = columns(line)?;
    let at = time(t_ms, last)?;
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
