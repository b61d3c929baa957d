//! `marks.csv`: when which key was pressed.

use std::io::BufRead;

use serde::Serialize;
use yarn_scale_core::units::Instant;

use super::column::{columns, time};
use crate::failure::{BadInput, quoted};
use crate::lines::Lines;

/// What a press asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Event {
    /// A boundary: MARK, short.
    Mark,
    /// Set zero: ZERO, short.
    Zero,
    /// Call what is on the pan a bowl.
    Tare,
    /// Take the last mark back: MARK, held.
    Undo,
}

/// A press and when the key went down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Press {
    /// When the key went down.
    pub at: Instant,
    /// What it asks for.
    pub event: Event,
}

/// Reads all presses.
///
/// # Errors
/// [`BadInput`] for another header, an unknown event, a time that goes back, or more than `MOST` presses.
pub fn read<R: BufRead>(mut lines: Lines<R>) -> Result<Vec<Press>, BadInput> {
    lines.expect_header("t_ms,event")?;
    let mut presses: Vec<Press> = Vec::new();
    loop {
        let last = presses.last().map_or(Instant(0), |press| press.at);
        let press = match lines.next_line()? {
            None => return Ok(presses),
            Some(line) => parse(line, last),
        };
        presses.push(press.map_err(|reason| lines.complain(reason))?);
        if presses.len() > MOST {
            return Err(lines.complain(format!("more than {MOST} presses")));
        }
    }
}

fn parse(line: &str, last: Instant) -> Result<Press, String> {
    let (t_ms, event) = columns(line)?;
    let at = time(t_ms, last)?;
    let event = match event {
        "mark" => Event::Mark,
        "zero" => Event::Zero,
        "tare" => Event::Tare,
        "undo" => Event::Undo,
        other => return Err(format!("event is none of mark, zero, tare, undo: {}", quoted(other))),
    };
    Ok(Press { at, event })
}

/// Most presses of one recording: a press a second for a day.
const MOST: usize = 86_400;
