//! The scale's side of the line: takes one question at a time, never waits for the line, never keeps a mark waiting.

use core::ops::ControlFlow;

use heapless::{String, Vec};

use super::frame::{Accumulator, MAX_FRAME, decode, encode};
use super::message::{Answer, Ask, DeviceInfo, LinkNote, MAX_ENTRIES, PROTOCOL, Position, Refusal, Request, Response};
use crate::app::{App, Input};
use crate::board::{Board, Link};
use crate::journal::{self, Entry, Journal, JournalFault, Record, RingName, SCHEMA};
use crate::units::{Duration, Instant};

/// What the server may touch while it answers.
#[derive(Debug)]
pub struct Desk<'d, B> {
    /// The board, for its line and its flash.
    pub board: &'d mut B,
    /// The application.
    pub app: &'d mut App,
    /// Its journal.
    pub journal: &'d mut Result<Journal, JournalFault>,
    /// The time.
    pub now: Instant,
}

/// The scale's end of the line.
#[derive(Clone, Debug, Default)]
pub struct Server {
    incoming: Accumulator,
    outgoing: Vec<u8, MAX_FRAME>,
    restored: bool,
    heard_at: Instant,
}

impl Server {
    /// Sends what is left of an answer, or takes what has come, answers one question and begins to send: a shell that sleeps
    /// now is woken by the line for the rest.
    pub fn poll<B: Board>(&mut self, desk: &mut Desk<'_, B>) {
        if self.outgoing.is_empty() {
            self.take(desk);
        }
        if !self.outgoing.is_empty() {
            let sent = desk.board.link().write(&self.outgoing);
            self.outgoing = self
                .outgoing
                .get(sent..)
                .unwrap_or_default()
                .try_into()
                .unwrap_or_default();
        }
    }

    fn take<B: Board>(&mut self, desk: &mut Desk<'_, B>) {
        let mut bytes = [0; READ_AT_ONCE];
        let count = desk.board.link().read(&mut bytes);
        if count > 0 {
            self.heard_at = desk.now;
        }
        for &byte in bytes.get(..count).unwrap_or_default() {
            let Some(frame) = self.incoming.take(byte) else {
                continue;
            };
            let Ok(Request { id, ask }) = decode(&frame) else {
                continue;
            };
            let answer = self.answer(ask, desk);
            let mut buffer = [0; MAX_FRAME];
            // The largest answer fits: see the test of the bounds.
            if let Ok(frame) = encode(&Response { id, answer }, &mut buffer) {
                self.outgoing = frame.try_into().unwrap_or_default();
            }
        }
    }

    /// A computer has asked something a moment ago.
    #[must_use]
    pub fn is_open(&self, now: Instant) -> bool {
        self.heard_at > Instant::default() && !self.is_quiet(now)
    }

    /// Nothing has come for a while.
    #[must_use]
    pub fn is_quiet(&self, now: Instant) -> bool {
        now.since(self.heard_at) > QUIET
    }

    /// Whether entries were restored since the last start, so that the state of the scale is to be replayed. Asked once.
    pub const fn take_restored(&mut self) -> bool {
        core::mem::replace(&mut self.restored, false)
    }

    fn answer<B: Board>(&mut self, ask: Ask, desk: &mut Desk<'_, B>) -> Answer {
        let Desk {
            board,
            app,
            journal,
            now,
        } = desk;
        let Ok(journal) = journal else {
            return Answer::Refused(Refusal::NoJournal);
        };
        let result = match ask {
            Ask::Hello => Ok(hello(app, journal)),
            Ask::Read(position) => read(journal, board.flash(), position),
            Ask::Note { .. } | Ask::Restore { .. } if app.is_busy() => Err(Refusal::Busy),
            Ask::Note { expected, .. } if expected != journal.next() => Err(Refusal::Stale),
            Ask::Note { note, .. } => {
                let noted = journal
                    .append(board.flash(), app.stamp(), record(note))
                    .map_err(Refusal::NotNoted);
                noted.map(|entry| {
                    app.handle(*now, Input::Adopted(&entry));
                    Answer::Noted(entry.sequence)
                })
            }
            Ask::Restore { ring, entry } => restore(journal, board.flash(), ring, &entry).map(|()| {
                self.restored = true;
                Answer::Restored
            }),
        };
        result.unwrap_or_else(Answer::Refused)
    }
}

fn hello(app: &App, journal: &Journal) -> Answer {
    let mut program = String::new();
    for sign in app.version().chars() {
        // A longer version loses its end.
        let _ = program.push(sign);
    }
    Answer::Device(DeviceInfo {
        protocol: PROTOCOL,
        schema: SCHEMA,
        program,
        capacity: app.capacity(),
        pair: app.ledger().pair(),
        next: journal.next(),
        used_percent: journal.usage().percent(),
    })
}

fn read<F: embedded_storage::nor_flash::NorFlash>(
    journal: &Journal,
    flash: &mut F,
    from: Position,
) -> Result<Answer, Refusal> {
    let place = journal.place(from.part, from.sector).ok_or(Refusal::NoSuchPlace)?;
    let mut bytes: Vec<u8, MAX_ENTRIES> = Vec::new();
    let mut passed = 0_u16;
    let mut full = false;
    let after = journal.items(flash, place, |item| {
        if passed >= from.entries {
            let needed = item.len().saturating_add(2);
            if bytes.capacity().saturating_sub(bytes.len()) < needed {
                full = true;
                return ControlFlow::Break(());
            }
            let length = u16::try_from(item.len()).unwrap_or(u16::MAX).to_be_bytes();
            // There is room: it was looked at.
            let _ = bytes.extend_from_slice(&length);
            let _ = bytes.extend_from_slice(item);
        }
        passed = passed.saturating_add(1);
        ControlFlow::Continue(())
    });
    let after = after.map_err(Refusal::NotNoted)?;
    let next = if full {
        Some(Position {
            part: from.part,
            sector: Some(place.sector()),
            entries: passed,
        })
    } else {
        after.map(|place| Position {
            part: place.part(),
            sector: Some(place.sector()),
            entries: 0,
        })
    };
    Ok(Answer::Entries {
        ring: place.ring(),
        bytes,
        next,
    })
}

fn restore<F: embedded_storage::nor_flash::NorFlash>(
    journal: &mut Journal,
    flash: &mut F,
    ring: RingName,
    bytes: &[u8],
) -> Result<(), Refusal> {
    let entry: Entry = journal::decode(bytes).map_err(|_| Refusal::Foreign)?;
    match journal.take_over(flash, ring, entry) {
        Ok(true) => Ok(()),
        Ok(false) => Err(Refusal::Foreign),
        Err(fault) => Err(Refusal::NotNoted(fault)),
    }
}

fn record(note: LinkNote) -> Record {
    match note {
        LinkNote::Name { what, name } => Record::Named { what, name },
        LinkNote::Clock { unix } => Record::ClockSet { unix },
        LinkNote::Yarn { letter, label } => Record::Yarn { letter, label },
    }
}

/// A computer that restores does not pause for so long.
const QUIET: Duration = Duration::from_secs(1);

/// Bytes read from the line in one turn: a full-speed USB packet.
const READ_AT_ONCE: usize = 64;
