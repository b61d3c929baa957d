//! The computer's end of the line: asks, waits a moment, asks again.

use std::fmt;
use std::io::{self, Read, Write};
use std::time::{Duration, Instant};

use yarn_scale_core::checksum::Crc32;
use yarn_scale_core::journal::{JournalFault, RingName, packed};
use yarn_scale_core::link::{
    Accumulator, Answer, Ask, DeviceInfo, MAX_ENTRIES, MAX_FRAME, PROTOCOL, Position, Refusal, Request, Response,
    decode, encode,
};

/// A scale at the other end of a line.
#[derive(Debug)]
pub struct Client<L> {
    line: L,
    incoming: Accumulator,
    id: u8,
}

/// Why a scale could not be asked.
#[derive(Debug)]
pub enum ClientFault {
    /// The line failed, or was unplugged.
    Line(io::Error),
    /// No answer, or not in this protocol.
    Silent,
    /// It speaks a later protocol than this program.
    Newer(u8),
    /// It refused, and why.
    Refused(Refusal),
    /// It answered something else than was asked.
    Confused,
}

impl fmt::Display for ClientFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Line(error) => write!(f, "the line to the scale failed: {error}"),
            Self::Silent => f.write_str("no yarn scale answers there"),
            Self::Newer(protocol) => write!(
                f,
                "the scale speaks protocol {protocol}, this program {PROTOCOL}: update this program"
            ),
            Self::Refused(refusal) => write!(f, "{refusal}"),
            Self::Confused => f.write_str("the scale answered something else than was asked"),
        }
    }
}

impl std::error::Error for ClientFault {}

impl<L: Read + Write> Client<L> {
    /// A scale at this line. The line's reads must give up after a moment.
    pub fn new(line: L) -> Self {
        Self {
            line,
            incoming: Accumulator::default(),
            id: 0,
        }
    }

    /// Says hello.
    ///
    /// # Errors
    /// A [`ClientFault`]; [`ClientFault::Silent`] where something else is plugged in.
    pub fn hello(&mut self) -> Result<DeviceInfo, ClientFault> {
        match self.ask(&Ask::Hello)? {
            Answer::Device(info) if info.protocol > PROTOCOL => Err(ClientFault::Newer(info.protocol)),
            Answer::Device(info) => Ok(info),
            _ => Err(ClientFault::Confused),
        }
    }

    /// Asks, and asks again if no answer comes: every question may safely be repeated.
    ///
    /// # Errors
    /// A [`ClientFault`]; a refusal counts as one.
    pub fn ask(&mut self, ask: &Ask) -> Result<Answer, ClientFault> {
        self.id = self.id.wrapping_add(1);
        let request = Request {
            id: self.id,
            ask: ask.clone(),
        };
        let mut buffer = [0; MAX_FRAME];
        let frame = encode(&request, &mut buffer).map_err(|_| ClientFault::Confused)?;
        for _ in 0..ATTEMPTS {
            // The zero in front ends whatever half a frame may stand before.
            self.line.write_all(&[0]).map_err(ClientFault::Line)?;
            self.line.write_all(frame).map_err(ClientFault::Line)?;
            self.line.flush().map_err(ClientFault::Line)?;
            match self.answer(if *ask == Ask::Hello { PATIENCE } else { LONG_PATIENCE })? {
                Some(Answer::Refused(refusal)) => return Err(ClientFault::Refused(refusal)),
                Some(answer) => return Ok(answer),
                None => {}
            }
        }
        Err(ClientFault::Silent)
    }

    /// Every entry of the journal, ring by ring, oldest first; `progress` hears how many there are so far.
    ///
    /// # Errors
    /// A [`ClientFault`].
    pub fn read_all(&mut self, mut progress: impl FnMut(usize)) -> Result<Vec<(RingName, Vec<u8>)>, ClientFault> {
        let mut entries = Vec::new();
        let mut from = Some(Position::default());
        while let Some(position) = from {
            let Answer::Entries { ring, bytes, next } = self.ask(&Ask::Read(position))? else {
                return Err(ClientFault::Confused);
            };
            let mut rest: &[u8] = &bytes;
            while let Some((entry, behind)) = packed::split(rest) {
                entries.push((ring, entry.to_vec()));
                rest = behind;
            }
            if !rest.is_empty() || next == Some(position) {
                return Err(ClientFault::Confused);
            }
            progress(entries.len());
            from = next;
        }
        Ok(entries)
    }

    /// The rings with something unreadable behind their last entry.
    ///
    /// # Errors
    /// A [`ClientFault`].
    pub fn unreadable_ends(&mut self) -> Result<Vec<RingName>, ClientFault> {
        let Answer::Ends(ends) = self.ask(&Ask::Ends)? else {
            return Err(ClientFault::Confused);
        };
        let rings = [RingName::Pairs, RingName::Marks, RingName::Visits];
        Ok(rings.into_iter().filter(|&ring| ends >> ring as u8 & 1 == 1).collect())
    }

    /// Begins a restore, of which nothing counts before [`Self::end_restore`]; gives the sectors that there are for visits.
    ///
    /// # Errors
    /// A [`ClientFault`].
    pub fn begin_restore(&mut self) -> Result<u16, ClientFault> {
        for _ in 0..ROUNDS_OF_ERASING {
            match self.ask(&Ask::RestoreBegin) {
                Ok(Answer::RestoreBegun { visits }) => return Ok(visits),
                Ok(_) => return Err(ClientFault::Confused),
                Err(ClientFault::Refused(Refusal::NotNoted(JournalFault::Restoring))) => {}
                Err(fault) => return Err(fault),
            }
        }
        Err(ClientFault::Refused(Refusal::NotNoted(JournalFault::Restoring)))
    }

    /// Ends a restore of these entries, all that were restored in their order: they count from now on.
    ///
    /// # Errors
    /// A [`ClientFault`]; the scale then has all of them or, once it has started anew, none.
    pub fn end_restore(&mut self, entries: &[(RingName, Vec<u8>)]) -> Result<(), ClientFault> {
        let mut sum = Crc32::new();
        for (ring, entry) in entries {
            let length = u16::try_from(entry.len()).map_err(|_| ClientFault::Confused)?;
            sum.take(&[*ring as u8]);
            sum.take(&length.to_be_bytes());
            sum.take(entry);
        }
        let end = Ask::RestoreEnd {
            entries: u32::try_from(entries.len()).map_err(|_| ClientFault::Confused)?,
            checksum: sum.value(),
        };
        match self.ask(&end)? {
            Answer::Restored => Ok(()),
            _ => Err(ClientFault::Confused),
        }
    }

    /// Restores entries of one ring, some two dozen with a frame; `progress` hears how many there are so far.
    ///
    /// # Errors
    /// A [`ClientFault`]; the restore is then to be begun anew.
    pub fn restore<'e>(
        &mut self,
        ring: RingName,
        entries: impl IntoIterator<Item = &'e [u8]>,
        mut progress: impl FnMut(usize),
    ) -> Result<(), ClientFault> {
        let mut row = heapless::Vec::<u8, MAX_ENTRIES>::new();
        let mut done = 0;
        let mut entries = entries.into_iter().peekable();
        while let Some(entry) = entries.next() {
            packed::put(&mut row, entry).map_err(|_| ClientFault::Confused)?;
            done += 1;
            let is_full = |next: &&[u8]| row.len() + next.len() > RESTORED_AT_ONCE;
            if entries.peek().is_none_or(is_full) {
                let entries = std::mem::take(&mut row);
                if self.ask(&Ask::Restore { ring, entries })? != Answer::Restored {
                    return Err(ClientFault::Confused);
                }
                progress(done);
            }
        }
        Ok(())
    }

    fn answer(&mut self, patience: Duration) -> Result<Option<Answer>, ClientFault> {
        let until = Instant::now() + patience;
        let mut bytes = [0; 256];
        while Instant::now() < until {
            let count = match self.line.read(&mut bytes) {
                Ok(count) => count,
                Err(error) if matches!(error.kind(), io::ErrorKind::TimedOut | io::ErrorKind::WouldBlock) => 0,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => 0,
                Err(error) => return Err(ClientFault::Line(error)),
            };
            if count == 0 {
                std::thread::sleep(Duration::from_millis(1));
            }
            for &byte in &bytes[..count] {
                let Some(frame) = self.incoming.take(byte) else {
                    continue;
                };
                // An answer to an earlier question comes late: passed over.
                if let Ok(Response { id, answer }) = decode(frame)
                    && id == self.id
                {
                    return Ok(Some(answer));
                }
            }
        }
        Ok(None)
    }
}

/// A scale that is there says hello within this time.
const PATIENCE: Duration = Duration::from_millis(1_500);

/// A scale that has said hello answers within this time, even if it erases and writes its flash first.
const LONG_PATIENCE: Duration = Duration::from_secs(20);

/// Bytes of entries restored with one frame, or one entry that is longer. A flash writes so many well within a tenth of a second,
/// in which the scale weighs nothing and draws nothing.
const RESTORED_AT_ONCE: usize = 512;

/// How often a scale is asked to begin a restore, which erases what an earlier one has left, 64 sectors at a time.
const ROUNDS_OF_ERASING: u32 = 64;

/// How often a question is asked.
const ATTEMPTS: u32 = 3;
