//! The cable is pulled out after any byte: the scale is as it was or has done what it was asked, whole, and answers the next computer.

use std::collections::BTreeSet;
use std::io::{self, Read, Write};

use yarn_scale_core::journal::{Named, RingName};
use yarn_scale_core::link::{Answer, Ask, LinkNote, MAX_FRAME, encode};
use yarn_scale_sim::computer::{Client, ClientFault};
use yarn_scale_sim::device::flash::{SimFlash, Tear};
use yarn_scale_tests::knitting::knitted;
use yarn_scale_tests::line::{Line, restore};

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

/// Restored in pieces: after each cut somebody plugs it in again and goes on where it stopped, as `restore` does.
#[test]
fn a_restore_that_is_cut_after_any_byte_can_be_gone_on_with() {
    let mut old = Line::new(knitted(1 << 18, 1));
    let backup = old.read_all();
    let mut line = Line::new(SimFlash::blank(1 << 18));
    for (number, (ring, entry)) in backup.iter().enumerate() {
        let ask = restore(*ring, &[entry]);
        let length = length(&ask);
        for cut in 0..length - 1 {
            assert!(!ask_over(&mut line, cut, 0, &ask));
        }
        assert_eq!(line.read_all(), backup[..number], "half a question does nothing");
        // The last byte comes, the answer does not: it is done, and cannot be done twice.
        assert!(!ask_over(&mut line, length, 0, &ask));
        assert_eq!(line.read_all(), backup[..=number]);
        if *ring != RingName::Visits {
            assert!(matches!(line.ask(ask), Answer::Refused(_)));
        }
    }
    goes_on(&mut line);
    assert_eq!(line.read_all(), backup);
}

/// The supply fails in any of the flash's operations while a frame of many entries is restored, and leaves any mixture behind.
#[test]
fn a_restore_whose_power_fails_at_any_instant_can_be_gone_on_with() {
    let backup = Line::new(knitted(1 << 18, 1)).read_all();
    let marks: Vec<_> = backup.iter().filter(|(ring, _)| *ring == RingName::Marks).collect();
    let entries: Vec<_> = marks.iter().map(|(_, entry)| entry).collect();
    let mut beginnings = BTreeSet::new();
    for operation in 0.. {
        let mut was_cut = false;
        for tear in Tear::all(operation) {
            let mut line = Line::new(SimFlash::blank(1 << 18));
            line.board.flash.cut_after(operation, tear);
            was_cut |= line.ask(restore(RingName::Marks, &entries)) != Answer::Restored;
            let mut line = Line::new(SimFlash::with_content(line.board.flash.content().to_vec()));
            let there: Vec<_> = line.read_all().into_iter().map(|(_, entry)| entry).collect();
            let is_beginning = entries.iter().copied().take(there.len()).eq(&there);
            assert!(is_beginning, "cut at {operation}");
            beginnings.insert(there.len());
            if there.len() < entries.len() {
                let rest = restore(RingName::Marks, &entries[there.len()..]);
                assert_eq!(line.ask(rest), Answer::Restored);
            }
            let all: Vec<_> = line.read_all().into_iter().map(|(_, entry)| entry).collect();
            assert!(entries.iter().copied().eq(&all), "gone on with, cut at {operation}");
        }
        if !was_cut {
            break;
        }
    }
    assert_eq!(
        beginnings.len(),
        entries.len() + 1,
        "after none of them, each of them, all of them"
    );
}
