//! A computer and a scale at the two ends of a line, without a world around them.

use yarn_scale_core::app::{App, Chip, Configuration, Input};
use yarn_scale_core::checksum::Crc32;
use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::journal::{Journal, JournalFault, RingName, StartCause, packed};
use yarn_scale_core::link::{
    Answer, Ask, MAX_FRAME, Position, Request, Response, Server, ServerContext, decode, encode,
};
use yarn_scale_core::units::{Counts, Instant, Milligrams};
use yarn_scale_core::weighing::Calibration;
use yarn_scale_sim::device::board::SimBoard;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_sim::world::{Room, Unit, World};

/// The question that restores these entries.
///
/// # Panics
/// If they do not fit.
#[must_use]
pub fn restore(ring: RingName, of: &[impl AsRef<[u8]>]) -> Ask {
    let mut entries = heapless::Vec::new();
    for entry in of {
        packed::put(&mut entries, entry.as_ref()).expect("room");
    }
    Ask::Restore { ring, entries }
}

/// The question that ends a restore of these.
#[must_use]
pub fn restore_end(entries: &[(RingName, Vec<u8>)]) -> Ask {
    let mut sum = Crc32::new();
    for (ring, entry) in entries {
        sum.take(&[*ring as u8]);
        sum.take(&(entry.len() as u16).to_be_bytes());
        sum.take(entry);
    }
    Ask::RestoreEnd {
        entries: entries.len() as u32,
        checksum: sum.value(),
    }
}

/// The two ends.
#[derive(Debug)]
pub struct Line {
    /// The scale's board.
    pub board: SimBoard,
    /// Its application.
    pub app: App,
    /// Its journal.
    pub journal: Result<Journal, JournalFault>,
    server: Server,
    id: u8,
}

impl Line {
    /// A scale with this flash chip.
    #[must_use]
    pub fn new(mut flash: SimFlash) -> Self {
        let capacity = Milligrams::from_grams(500);
        let calibration = Calibration::nominal(capacity);
        let mut app = App::new(Configuration {
            capacity,
            calibration,
            calibrated: true,
            version: "test",
            chip: Chip::default(),
        });
        let journal = Journal::open(&mut flash, |replayed| app.handle(Instant(0), Input::Replayed(replayed)));
        app.handle(Instant(0), Input::Ready(StartCause::Restored));
        while app.poll().is_some() {}
        let board = SimBoard::new(World::new(Unit::perfect(), SampleRate::Ten, Room::constant()), flash);
        Self {
            board,
            app,
            journal,
            server: Server::default(),
            id: 0,
        }
    }

    /// The frame of a question.
    #[must_use]
    pub fn frame(&mut self, ask: Ask) -> Vec<u8> {
        self.id = self.id.wrapping_add(1);
        let mut buffer = [0; MAX_FRAME];
        encode(&Request { id: self.id, ask }, &mut buffer)
            .expect("a question fits")
            .to_vec()
    }

    /// Sends bytes and gives what comes back.
    pub fn send(&mut self, bytes: &[u8]) -> Vec<Response> {
        self.board.link.to_device.extend_from_slice(bytes);
        // Two turns more than it takes to read all: for the last answer.
        for _ in 0..bytes.len() / 64 + 4 {
            let (app, journal, now) = (&mut self.app, &mut self.journal, Instant(1_000));
            self.server.poll(&mut ServerContext {
                board: &mut self.board,
                app,
                journal,
                now,
            });
        }
        let sent = std::mem::take(&mut self.board.link.to_computer);
        let frames = sent.split(|&byte| byte == 0).filter(|frame| !frame.is_empty());
        frames.map(|frame| decode(frame).expect("an answer")).collect()
    }

    /// Asks and gives the answer.
    ///
    /// # Panics
    /// If there is not exactly one answer, to this question.
    pub fn ask(&mut self, ask: Ask) -> Answer {
        let frame = self.frame(ask);
        let mut answers = self.send(&frame);
        assert_eq!(answers.len(), 1, "one question, one answer");
        let answer = answers.remove(0);
        assert_eq!(answer.id, self.id);
        answer.answer
    }

    /// A conversion comes at this time, in ms.
    pub fn converted(&mut self, at: u64, raw: i32) {
        self.server.converted(Instant(at), RawSample(Counts(raw)));
    }

    /// Whether the device would start anew at this time, in ms: its computer has asked for the last time at 1,000.
    pub fn starts_anew(&mut self, at: u64) -> bool {
        self.server.take_restored(self.journal.as_ref().ok(), Instant(at))
    }

    /// Restores these entries, each with a frame.
    ///
    /// # Panics
    /// If the scale refuses.
    pub fn put_back(&mut self, entries: &[(RingName, Vec<u8>)]) {
        assert!(matches!(self.ask(Ask::RestoreBegin), Answer::RestoreBegun { .. }));
        for (ring, entry) in entries {
            assert_eq!(self.ask(restore(*ring, &[entry])), Answer::Restored);
        }
        assert_eq!(self.ask(restore_end(entries)), Answer::Restored);
    }

    /// Every entry of the journal, encoded, as a computer reads it.
    ///
    /// # Panics
    /// If an answer is of another kind.
    pub fn read_all(&mut self) -> Vec<(RingName, Vec<u8>)> {
        let mut entries = Vec::new();
        for part in 0..3 {
            let mut from = Some(Position {
                part,
                ..Position::default()
            });
            while let Some(position) = from.filter(|from| from.part == part) {
                let Answer::Entries { ring, bytes, next } = self.ask(Ask::Read(position)) else {
                    panic!("no entries")
                };
                let mut rest: &[u8] = &bytes;
                while let Some((entry, behind)) = packed::split(rest) {
                    entries.push((ring, entry.to_vec()));
                    rest = behind;
                }
                from = next;
            }
        }
        entries
    }
}
