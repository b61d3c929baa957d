//! The cable is pulled out after any byte: the scale is as it was or has done what it was asked, whole, and answers the next computer.

use std::io::{self, Read, Write};

use yarn_scale_core::journal::{Named, RingName};
use yarn_scale_core::link::{Ask, LinkNote, MAX_FRAME, encode};
use yarn_scale_sim::computer::{Client, ClientFault};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::knitting::knitted;
use yarn_scale_tests::line::Line;

/// A cable that is pulled out after so many bytes to the scale, or so many from it.
struct Cable<'l> {
    line: &'l mut Line,
    to_scale: usize,
    from_scale: usize,
    waiting: Vec<u8>,
}

impl<'l> Cable<'l> {
    fn new(line: &'l mut Line, to_scale: usize, from_scale: usize) -> Self {
        Self {
            line,
            to_scale,
            from_scale,
            waiting: Vec::new(),
        }
    }
}

fn pulled() -> io::Error {
    io::ErrorKind::BrokenPipe.into()
}

impl Write for Cable<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.to_scale == 0 {
            return Err(pulled());
        }
        let count = bytes.len().min(self.to_scale);
        self.to_scale -= count;
        for response in self.line.send(&bytes[..count]) {
            let mut buffer = [0; MAX_FRAME];
            self.waiting
                .extend_from_slice(encode(&response, &mut buffer).expect("it came as a frame"));
        }
        Ok(count)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Read for Cable<'_> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.from_scale == 0 {
            return Err(pulled());
        }
        let count = self.waiting.len().min(into.len()).min(self.from_scale);
        self.from_scale -= count;
        into[..count].copy_from_slice(&self.waiting[..count]);
        self.waiting.drain(..count);
        Ok(count)
    }
}

/// Whether the question was answered before the cable went.
fn ask_over(line: &mut Line, to_scale: usize, from_scale: usize, ask: &Ask) -> bool {
    let answered = match Client::new(Cable::new(line, to_scale, from_scale)).ask(ask) {
        Ok(_) => true,
        Err(ClientFault::Line(_)) => false,
        Err(other) => panic!("{other}"),
    };
    // The next computer begins with a zero, which ends what may stand before: a question that lacked only this is whole.
    line.send(&[0]);
    answered
}

/// The length of a question on the line, with the zero in front.
fn length(ask: &Ask) -> usize {
    let mut buffer = [0; MAX_FRAME];
    let request = yarn_scale_core::link::Request {
        id: 1,
        ask: ask.clone(),
    };
    1 + encode(&request, &mut buffer).expect("it fits").len()
}

fn goes_on(line: &mut Line) {
    let mut client = Client::new(Cable::new(line, usize::MAX, usize::MAX));
    client.hello().expect("the next computer is answered");
}

#[test]
fn a_name_is_noted_whole_or_not_at_all_wherever_the_question_is_cut() {
    let flash = knitted(1 << 18, 2);
    let expected = Line::new(SimFlash::with_content(flash.content().to_vec()))
        .journal
        .expect("a journal")
        .next();
    let ask = Ask::Note {
        expected,
        note: LinkNote::Name {
            what: Named::Pair(1),
            name: "Sample".try_into().expect("a short name"),
        },
    };
    let length = length(&ask);
    for cut in 0..=length {
        let mut line = Line::new(SimFlash::with_content(flash.content().to_vec()));
        let before = line.read_all();
        // Nothing of an answer comes through.
        assert!(!ask_over(&mut line, cut, 0, &ask));
        let after = line.read_all();
        if cut < length - 1 {
            assert_eq!(line.board.flash.content(), flash.content(), "cut after {cut} bytes");
        } else {
            assert_eq!(after.len(), before.len() + 1, "the whole question came");
        }
        goes_on(&mut line);
    }
}

#[test]
fn an_answer_that_is_cut_is_asked_for_again() {
    let mut line = Line::new(knitted(1 << 18, 2));
    let whole = line.read_all();
    let mut cut = 0;
    // Answers are at most so long.
    while !ask_over(&mut line, usize::MAX, cut, &Ask::Read(Default::default())) {
        cut += 1;
        assert!(cut <= MAX_FRAME, "no answer is longer");
    }
    assert!(cut > 100, "an answer of {cut} bytes");
    assert_eq!(line.read_all(), whole);
}

/// Restores a whole backup over a cable that is pulled; whether the end was confirmed.
fn restore_over(line: &mut Line, to_scale: usize, from_scale: usize, backup: &[(RingName, Vec<u8>)]) -> bool {
    let mut client = Client::new(Cable::new(line, to_scale, from_scale));
    let mut restored = || {
        client.begin_restore()?;
        for ring in [RingName::Pairs, RingName::Marks, RingName::Visits] {
            let entries = backup.iter().filter(|(of, _)| *of == ring);
            client.restore(ring, entries.map(|(_, entry)| entry.as_slice()), |_| {})?;
        }
        client.end_restore(backup)
    };
    match restored() {
        Ok(()) => true,
        Err(ClientFault::Line(_)) => false,
        Err(other) => panic!("{other}"),
    }
}

/// After each cut the scale, which starts anew by itself, is as it was; or all of the backup is there, of which only the answer was lost.
#[test]
fn a_restore_that_is_cut_after_any_byte_leaves_all_of_it_or_nothing() {
    let backup = Line::new(knitted(1 << 18, 1)).read_all();
    let restart = |line: Line| Line::new(SimFlash::with_content(line.board.flash.content().to_vec()));
    let (mut cut, mut done) = (0, false);
    while !done {
        let mut line = Line::new(SimFlash::blank(1 << 18));
        done = restore_over(&mut line, cut, usize::MAX, &backup);
        let mut line = restart(line);
        let there = line.read_all();
        if done || !there.is_empty() {
            assert_eq!(there, backup, "cut after {cut} bytes");
        } else {
            assert!(restore_over(&mut line, usize::MAX, usize::MAX, &backup));
            assert_eq!(restart(line).read_all(), backup, "again, cut after {cut} bytes");
        }
        cut += 7;
    }
    assert!(cut > 500, "a restore of {cut} bytes");
    let (mut cut, mut done) = (0, false);
    while !done {
        let mut line = Line::new(SimFlash::blank(1 << 18));
        done = restore_over(&mut line, usize::MAX, cut, &backup);
        let mut line = restart(line);
        let there = line.read_all();
        assert!(there.is_empty() || there == backup, "answers cut after {cut} bytes");
        cut += 1;
    }
    assert!(cut > 30, "answers of {cut} bytes");
}
