//! The line to a computer: what is read is what is there, what is restored is what was, and no damaged frame does anything.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use yarn_scale_core::journal::{Named, RingName, Sequence};
use yarn_scale_core::link::{Answer, Ask, Conversion, LinkNote, Refusal, decode, encode};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::knitting::knitted;
use yarn_scale_tests::line::{Line, restore, restore_end};

fn name(line: &Line, text: &str) -> Ask {
    let expected = line.journal.as_ref().expect("a journal").next();
    let name = text.try_into().expect("a short name");
    Ask::Note {
        expected,
        note: LinkNote::Name {
            what: Named::Pair(1),
            name,
        },
    }
}

#[test]
fn hello_says_who_is_there() {
    let mut line = Line::new(knitted(1 << 20, 3));
    let Answer::Device(info) = line.ask(Ask::Hello) else {
        panic!("no device")
    };
    assert_eq!((info.protocol, info.program.as_str(), info.pair), (5, "test", 3));
}

#[test]
fn a_backup_restored_to_a_blank_scale_reads_back_the_same() {
    for (capacity, pairs) in [(1 << 20, 40), (1 << 18, 30)] {
        let mut line = Line::new(knitted(capacity, pairs));
        let backup = line.read_all();
        assert!(backup.len() > usize::from(pairs), "a read-out of something");
        let mut other = Line::new(SimFlash::blank(capacity));
        other.put_back(&backup);
        assert_eq!(other.read_all(), backup);
        let flash = SimFlash::with_content(other.board.flash.content().to_vec());
        let again = Line::new(flash);
        assert_eq!(again.app.book().ledger(), line.app.book().ledger());
    }
}

/// A blank bit that has gone over with age spoils the entry that is written there: it and those behind it are written once more, and
/// none stands twice or before its turn.
#[test]
fn entries_restored_over_an_aged_bit_stand_in_their_order() {
    let backup = Line::new(knitted(1 << 18, 1)).read_all();
    let marks: Vec<_> = backup
        .into_iter()
        .filter(|(ring, _)| *ring == RingName::Marks)
        .collect();
    let entries: Vec<_> = marks.iter().map(|(_, entry)| entry).collect();
    // Visits have a sixteenth of the flash, pairs a quarter, marks the rest.
    let first_mark = (1 << 18) / 16 + (1 << 18) / 4;
    for byte in (100..900).step_by(7) {
        let mut line = Line::new(SimFlash::blank(1 << 18));
        line.ask(Ask::RestoreBegin);
        assert_eq!(line.ask(restore(RingName::Marks, &entries[..3])), Answer::Restored);
        line.board.flash.flip(first_mark + byte, 3);
        assert_eq!(line.ask(restore(RingName::Marks, &entries[3..])), Answer::Restored);
        assert_eq!(line.ask(restore_end(&marks)), Answer::Restored);
        let there: Vec<_> = line.read_all().into_iter().map(|(_, entry)| entry).collect();
        if !entries[..3].iter().all(|entry| there.contains(entry)) {
            continue; // One of the first three: the journal cannot know of what is no more.
        }
        assert!(entries.iter().copied().eq(&there), "byte {byte}");
    }
}

#[test]
fn a_foreign_or_older_backup_is_refused() {
    let mut line = Line::new(knitted(1 << 20, 3));
    let backup = line.read_all();
    let before = line.board.flash.content().to_vec();
    // Also that of a program which does not begin one.
    for (ring, entry) in &backup {
        assert_eq!(line.ask(restore(*ring, &[entry])), Answer::Refused(Refusal::Stale));
    }
    assert_eq!(line.ask(restore_end(&[])), Answer::Refused(Refusal::Stale));
    assert_eq!(line.board.flash.content(), before);
    line.ask(Ask::RestoreBegin);
    for (ring, entry) in &backup {
        assert_eq!(line.ask(restore(*ring, &[entry])), Answer::Refused(Refusal::Foreign));
    }
    assert_eq!(line.ask(restore_end(&backup)), Answer::Refused(Refusal::Foreign));
    assert_eq!(line.ask(name(&line, "Toes")), Answer::Refused(Refusal::Busy));
    let mut again = Line::new(SimFlash::with_content(line.board.flash.content().to_vec()));
    assert_eq!(again.read_all(), backup);
}

#[test]
fn a_name_is_noted_once_however_often_its_frame_comes() {
    let mut line = Line::new(knitted(1 << 20, 1));
    let ask = name(&line, "Sample socks");
    let frame = line.frame(ask);
    let answers: Vec<Answer> = (0..3)
        .flat_map(|_| line.send(&frame))
        .map(|response| response.answer)
        .collect();
    assert!(matches!(answers[0], Answer::Noted(_)), "{answers:?}");
    // A pair's name stands among the pairs, whose numbers the marks do not share; the clock stands among the marks.
    let expected = line.journal.as_ref().expect("a journal").next();
    let clock = line.frame(Ask::Note {
        expected,
        note: LinkNote::Clock { unix: 1_790_000_000 },
    });
    let answers: Vec<Answer> = (0..3)
        .flat_map(|_| line.send(&clock))
        .map(|response| response.answer)
        .collect();
    assert_eq!(answers[0], Answer::Noted(expected));
    assert_eq!(answers[1], Answer::Refused(Refusal::Stale));
    assert_eq!(answers[2], Answer::Refused(Refusal::Stale));
}

/// Flipped, cut, repeated and reordered frames: no panic, no hang, and no change of the journal but by a whole frame that is
/// there as it was sent and expects the right number.
#[test]
fn a_hundred_thousand_damaged_frames_change_nothing() {
    let mut random = Pcg64::seed_from_u64(7);
    let mut line = Line::new(knitted(1 << 18, 2));
    let backup = line.read_all();
    let before = line.board.flash.content().to_vec();
    let expected = Sequence(line.journal.as_ref().expect("a journal").next().0 + 1);
    let mut asks = vec![
        Ask::Hello,
        Ask::Read(Default::default()),
        Ask::Ends,
        restore_end(&backup),
    ];
    asks.push(Ask::Note {
        expected,
        note: LinkNote::Clock { unix: 1_790_000_000 },
    });
    // Short ones, of an entry, and long ones, of many.
    for ring in [RingName::Pairs, RingName::Marks, RingName::Visits] {
        let of_ring: Vec<_> = backup
            .iter()
            .filter(|(of, _)| *of == ring)
            .map(|(_, entry)| entry)
            .collect();
        asks.extend(of_ring.iter().take(8).map(|entry| restore(ring, &[entry])));
        asks.extend(of_ring.chunks(60).map(|entries| restore(ring, entries)));
    }
    let frames: Vec<Vec<u8>> = asks.into_iter().map(|ask| line.frame(ask)).collect();
    let mut answered = 0;
    for _ in 0..100_000 {
        let mut bytes = frames[random.random_range(0..frames.len())].clone();
        match random.random_range(0..4) {
            0 => {
                for _ in 0..random.random_range(1..4) {
                    let place = random.random_range(0..bytes.len());
                    bytes[place] ^= 1 << random.random_range(0..8);
                }
            }
            1 => bytes.truncate(random.random_range(0..bytes.len())),
            2 => bytes.extend_from_slice(&frames[random.random_range(0..frames.len())]),
            _ => {
                let (a, b) = (random.random_range(0..bytes.len()), random.random_range(0..bytes.len()));
                bytes.swap(a, b);
            }
        }
        answered += line.send(&bytes).len();
    }
    assert!(answered > 0, "whole frames among them are answered");
    assert_eq!(line.board.flash.content(), before, "the journal is as it was");
    // And the line still works.
    line.send(&[0]);
    assert!(matches!(line.ask(Ask::Hello), Answer::Device(_)));
}

/// A record that a power cut tore off, or that was damaged since, is told over the line as the scale's own start tells it.
#[test]
fn a_torn_last_record_is_told_over_the_line() {
    let flash = knitted(1 << 18, 2);
    let mut line = Line::new(flash.copy());
    assert_eq!(line.ask(Ask::Ends), Answer::Ends(0));
    for (part, ring) in (0..3).zip([RingName::Pairs, RingName::Marks, RingName::Visits]) {
        let entries = line.read_all();
        let (_, last) = entries.iter().rfind(|(of, _)| *of == ring).expect("one");
        let content = flash.content();
        let places = content.windows(last.len()).enumerate();
        let at = places.filter(|(_, bytes)| *bytes == last).map(|(at, _)| at).next_back();
        let mut torn = flash.copy();
        torn.flip(at.expect("it stands there") + last.len() - 1, 4);
        let mut line = Line::new(torn);
        assert_eq!(line.ask(Ask::Ends), Answer::Ends(1 << part));
    }
}

#[test]
fn the_bytes_on_the_line_are_those_of_the_protocol() {
    let mut buffer = [0; yarn_scale_core::link::MAX_FRAME];
    let hello = yarn_scale_core::link::Request { id: 7, ask: Ask::Hello };
    let bytes = encode(&hello, &mut buffer).expect("it fits").to_vec();
    assert_eq!(bytes.last(), Some(&0));
    // Body 07 00 (id 7, variant 0), then CRC-32/ISO-HDLC of it, COBS around both.
    assert_eq!(bytes[..4], [0x02, 0x07, 0x05, bytes[3]]);
    let back: yarn_scale_core::link::Request = decode(&bytes[..bytes.len() - 1]).expect("a frame");
    assert_eq!(back, hello);
}

/// After a restore the scale starts anew once, a second after the last question; for a computer that has not ended it, it waits for ten.
#[test]
fn a_scale_waits_for_a_computer_that_restores() {
    let entries = Line::new(knitted(1 << 18, 1)).read_all();
    let mut line = Line::new(SimFlash::blank(1 << 18));
    line.ask(Ask::Hello);
    assert!(!line.starts_anew(60_000), "nothing was restored");
    line.ask(Ask::RestoreBegin);
    assert!(!line.starts_anew(10_900));
    line.put_back(&entries);
    assert!(!line.starts_anew(1_900));
    assert!(line.starts_anew(2_100));
    assert!(!line.starts_anew(60_000), "once");
    let mut line = Line::new(SimFlash::blank(1 << 18));
    line.ask(Ask::RestoreBegin);
    assert!(line.starts_anew(11_100), "the cable was pulled");
}

/// A computer that was ended in the middle of a restore and begins anew reads what counts, and restores all of it, not the rest.
#[test]
fn a_restore_that_was_given_up_is_nowhere_to_be_read() {
    let entries = Line::new(knitted(1 << 18, 1)).read_all();
    let mut line = Line::new(SimFlash::blank(1 << 18));
    line.ask(Ask::RestoreBegin);
    for (ring, entry) in &entries[..entries.len() / 2] {
        assert_eq!(line.ask(restore(*ring, &[entry])), Answer::Restored);
    }
    assert_eq!(line.ask(Ask::Read(Default::default())), Answer::Refused(Refusal::Busy));
    let Answer::Device(info) = line.ask(Ask::Hello) else {
        panic!("no device")
    };
    assert_eq!(info.next, Sequence(1));
    assert_eq!(line.read_all(), []);
    line.put_back(&entries);
    assert_eq!(line.read_all(), entries);
}

fn conversions(line: &mut Line) -> (bool, Vec<(u32, i32)>) {
    let Answer::Conversions { missed, all } = line.ask(Ask::Conversions) else {
        panic!("no conversions")
    };
    let all = all.as_chunks().0.iter().map(|bytes| Conversion::from_bytes(*bytes));
    (missed, all.map(|one| (one.at, one.raw)).collect())
}

/// The line's computer asks at 1,000 ms.
#[test]
fn conversions_are_kept_for_a_computer_that_records() {
    let mut line = Line::new(SimFlash::blank(1 << 18));
    line.converted(900, 1);
    assert_eq!(conversions(&mut line), (false, vec![]), "nobody had asked");
    line.converted(1_100, -5);
    line.converted(1_200, 8_388_607);
    assert_eq!(conversions(&mut line), (false, vec![(1_100, -5), (1_200, 8_388_607)]));
    assert_eq!(conversions(&mut line), (false, vec![]), "each once");
    for count in 0..70 {
        line.converted(1_000 + 10 * count, count as i32);
    }
    let (missed, kept) = conversions(&mut line);
    assert!(missed, "six there was no room for");
    assert_eq!((kept.len(), kept.last()), (64, Some(&(1_630, 63))));
    line.converted(1_700, 7);
    assert_eq!(conversions(&mut line), (false, vec![(1_700, 7)]));
    // More than a second after the last question: the computer has gone.
    line.converted(2_001, 9);
    assert_eq!(conversions(&mut line), (false, vec![]));
}
