//! The scale's side of the line: takes one question at a time, never waits for the line, never keeps a mark waiting.

use core::ops::{ControlFlow, Range};

use embedded_storage::nor_flash::NorFlash;
use heapless::Vec;

use super::frame::{Accumulator, MAX_FRAME, decode, encode};
use super::message::{
    Answer, Ask, Checking, Conversion, DeviceInfo, LinkNote, MAX_CONVERSIONS, MAX_ENTRIES, PROTOCOL, Position, Refusal,
    Request, Response,
};
use crate::app::{App, Input};
use crate::board::{Board, Link};
use crate::converter::RawSample;
use crate::journal::{Journal, JournalFault, Record, SCHEMA, Setting, packed};
use crate::units::{Counts, Duration, Instant};

/// What the server may touch while it answers.
#[derive(Debug)]
pub struct ServerContext<'d, B> {
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
#[derive(Clone, Debug)]
pub struct Server {
    incoming: Accumulator,
    outgoing: [u8; MAX_FRAME],
    /// Where in it stands what is to be sent yet.
    unsent: Range<usize>,
    /// Whether something was restored since the last start.
    restored: bool,
    heard_at: Instant,
    /// Whether a computer records, which asks for conversions again and again.
    records: bool,
    missed: bool,
    conversions: Vec<u8, { 8 * MAX_CONVERSIONS }>,
}

impl Default for Server {
    fn default() -> Self {
        Self {
            incoming: Accumulator::default(),
            outgoing: [0; MAX_FRAME],
            unsent: 0..0,
            restored: false,
            heard_at: Instant::default(),
            records: false,
            missed: false,
            conversions: Vec::new(),
        }
    }
}

impl Server {
    /// Sends what is left of an answer, or takes what has come, answers one question and begins to send: a shell that sleeps
    /// now is woken by the line for the rest.
    #[inline(never)]
    pub fn poll<B: Board>(&mut self, context: &mut ServerContext<'_, B>) {
        for _ in 0..PACKETS_A_TURN {
            if !self.unsent.is_empty() || !self.take(context) {
                break;
            }
        }
        for _ in 0..PACKETS_A_TURN {
            let unsent = self.outgoing.get(self.unsent.clone()).unwrap_or_default();
            let sent = context.board.link().write(unsent);
            self.unsent.start = self.unsent.start.saturating_add(sent);
            if sent == 0 || self.unsent.is_empty() {
                break;
            }
        }
    }

    /// Takes a packet and answers the question that ends in it; says whether one was there.
    fn take<B: Board>(&mut self, context: &mut ServerContext<'_, B>) -> bool {
        let mut bytes = [0; PACKET];
        let count = context.board.link().read(&mut bytes);
        if count > 0 {
            self.heard_at = context.now;
        }
        for &byte in bytes.get(..count).unwrap_or_default() {
            let Some(frame) = self.incoming.take(byte) else {
                continue;
            };
            let Ok(Request { id, ask }) = decode(frame) else {
                continue;
            };
            let answer = self.answer(ask, context);
            // The largest answer fits: see the test of the bounds.
            self.unsent = encode(&Response { id, answer }, &mut self.outgoing).map_or(0..0, |frame| 0..frame.len());
        }
        count > 0
    }

    /// A conversion was read: kept for the computer that records, if there is one.
    #[allow(clippy::cast_possible_truncation, reason = "the low bits are what is told")]
    pub fn converted(&mut self, now: Instant, RawSample(Counts(raw)): RawSample) {
        self.records &= !self.is_quiet(now);
        if self.records {
            let at = now.0 as u32;
            let bytes = Conversion { at, raw }.to_bytes();
            self.missed |= self.conversions.extend_from_slice(&bytes).is_err();
        }
    }

    /// The conversions since the last time; the first time none, and from then on they are kept.
    fn take_conversions(&mut self) -> Answer {
        if !core::mem::replace(&mut self.records, true) {
            self.conversions.clear();
            self.missed = false;
        }
        // An answer has room for far more.
        let all = Vec::from_slice(&self.conversions).unwrap_or_default();
        self.conversions.clear();
        Answer::Conversions {
            missed: core::mem::take(&mut self.missed),
            all,
        }
    }

    /// A computer has asked something a moment ago.
    #[must_use]
    pub fn is_open(&self, now: Instant) -> bool {
        self.heard_at > Instant::default() && !self.is_quiet(now)
    }

    /// Nothing has come for a while.
    fn is_quiet(&self, now: Instant) -> bool {
        now.since(self.heard_at) > QUIET
    }

    /// Whether a restore was begun since the last start and nothing comes any more, so that the state of the scale is to be replayed. Said
    /// once. For a computer in the middle of one it waits longer.
    pub fn take_restored(&mut self, journal: Option<&Journal>, now: Instant) -> bool {
        let is_half = journal.is_some_and(Journal::is_half_restored);
        let patience = if is_half { PATIENCE } else { QUIET };
        self.restored && now.since(self.heard_at) > patience && core::mem::replace(&mut self.restored, false)
    }

    fn answer<B: Board>(&mut self, ask: Ask, context: &mut ServerContext<'_, B>) -> Answer {
        let ServerContext {
            board,
            app,
            journal,
            now,
        } = context;
        let Ok(journal) = journal else {
            return Answer::Refused(Refusal::NoJournal);
        };
        let result = match ask {
            Ask::Conversions => Ok(self.take_conversions()),
            Ask::Hello => {
                // A computer that begins anew has given up the restore that it was in: it is to see what counts.
                if journal.is_half_restored()
                    && let Ok(opened) = Journal::open(board.flash(), |_| {})
                {
                    *journal = opened;
                }
                Ok(Answer::Device(device_info(app, journal)))
            }
            Ask::Read(_) if journal.is_half_restored() => Err(Refusal::Busy),
            Ask::Read(position) => read(journal, board.flash(), position),
            Ask::Ends => journal
                .unreadable_ends(board.flash())
                .map(Answer::Ends)
                .map_err(Refusal::NotNoted),
            Ask::Note { .. } if journal.is_restoring() => Err(Refusal::Busy),
            Ask::Note { .. }
            | Ask::Restore { .. }
            | Ask::RestoreBegin
            | Ask::RestoreEnd { .. }
            | Ask::Check(Some(_))
                if app.is_busy() =>
            {
                Err(Refusal::Busy)
            }
            Ask::Note { expected, .. } if expected != journal.next() => Err(Refusal::Stale),
            Ask::Note { note, .. } => {
                let noted = record(note, journal, board.flash()).and_then(|record| {
                    let noted = journal.append(board.flash(), app.stamp(), app.of_pair_in_hand(record));
                    noted.map_err(Refusal::NotNoted)
                });
                noted.map(|entry| {
                    app.handle(*now, Input::Adopted(&entry));
                    Answer::Noted(entry.sequence)
                })
            }
            Ask::Check(task) => {
                if let Some(task) = task {
                    app.handle(*now, Input::Check(task));
                }
                Ok(Answer::Checking(checking(app, *now)))
            }
            Ask::RestoreBegin => {
                // Even where it fails, something may have been begun.
                self.restored = true;
                let begun = journal.begin_restore(board.flash());
                begun
                    .map(|visits| Answer::RestoreBegun { visits })
                    .map_err(Refusal::NotNoted)
            }
            Ask::Restore { .. } | Ask::RestoreEnd { .. } if !journal.is_restoring() => Err(Refusal::Stale),
            Ask::Restore { ring, entries } => restored(journal.take_over(board.flash(), ring, &entries)),
            Ask::RestoreEnd { entries, checksum } => restored(journal.end_restore(board.flash(), entries, checksum)),
        };
        result.unwrap_or_else(Answer::Refused)
    }
}

/// Who the device is, as it says to a computer that asks.
#[must_use]
pub(crate) fn device_info(app: &App, journal: &Journal) -> DeviceInfo {
    // One that is too long is not told.
    let program = app.version().try_into().unwrap_or_default();
    DeviceInfo {
        protocol: PROTOCOL,
        schema: SCHEMA,
        program,
        capacity: app.capacity(),
        pair: app.book().ledger().pair(),
        next: journal.next(),
        used_percent: journal.usage().percent(),
    }
}

fn checking(app: &App, now: Instant) -> Checking {
    let under_way = app.sheet().under_way();
    Checking {
        task: under_way.map(|under_way| under_way.task),
        seconds_left: under_way.map_or(0, |under_way| under_way.seconds_left(now)),
        supply: app.health().supply,
        sensor: app.air().is_some(),
        empty: app.sheet().has_empty(),
    }
}

fn read<F: NorFlash>(journal: &Journal, flash: &mut F, from: Position) -> Result<Answer, Refusal> {
    let place = journal.place(from.part, from.sector).ok_or(Refusal::NoSuchPlace)?;
    let mut bytes: Vec<u8, MAX_ENTRIES> = Vec::new();
    let after = journal.items(flash, place, |item| {
        // A sector fits: see the bound.
        let _ = packed::put(&mut bytes, item);
        ControlFlow::Continue(())
    });
    let next = after.map_err(Refusal::NotNoted)?.map(|place| Position {
        part: place.part(),
        sector: Some(place.sector()),
        entries: 0,
    });
    Ok(Answer::Entries {
        ring: place.ring(),
        bytes,
        next,
    })
}

fn restored(taken: Result<bool, JournalFault>) -> Result<Answer, Refusal> {
    match taken {
        Ok(true) => Ok(Answer::Restored),
        Ok(false) => Err(Refusal::Foreign),
        Err(fault) => Err(Refusal::NotNoted(fault)),
    }
}

fn record<F: NorFlash>(note: LinkNote, journal: &Journal, flash: &mut F) -> Result<Record, Refusal> {
    Ok(match note {
        LinkNote::Name { what, name } => Record::Named { what, name },
        LinkNote::Clock { unix } => Record::ClockSet { unix },
        LinkNote::Yarn { letter, label } => Record::Yarn { letter, label },
        LinkNote::MakeRoom => {
            let room = journal.room(flash).map_err(Refusal::NotNoted)?;
            Record::Setting(Setting::KeptFrom(room.ok_or(Refusal::NoNeed)?.from))
        }
    })
}

/// A computer that asks does not pause for so long.
const QUIET: Duration = Duration::from_secs(1);

/// A computer that restores does not pause for so long, however much else it has to do: behind that the cable was pulled.
const PATIENCE: Duration = Duration::from_secs(10);

/// Bytes read from the line at once: a full-speed USB packet.
const PACKET: usize = 64;

/// Most packets each way in a turn of the loop, which has a scale to be: a millisecond of the bus at the most.
const PACKETS_A_TURN: usize = 16;
