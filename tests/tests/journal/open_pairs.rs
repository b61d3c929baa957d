//! Several pairs open at once: a checkpoint keeps every one of them, whenever power fails, and a closed one makes room.

use yarn_scale_core::journal::{Entry, Journal, JournalFault, OPEN_PAIRS, PairEvent, Record, Sequence};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::{SimFlash, Tear};
use yarn_scale_tests::durability::{Found, frame};
use yarn_scale_tests::events::{EVENT_KINDS, event_of_kind};
use yarn_scale_tests::knitting;

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

const CAPACITY: usize = 256 << 10;

struct Needles {
    flash: SimFlash,
    journal: Journal,
    /// What was noted of each pair, by its number.
    told: Vec<Vec<(Sequence, PairEvent)>>,
    now: u32,
}

impl Needles {
    fn new() -> Self {
        let mut flash = SimFlash::blank(CAPACITY);
        let (journal, _) = Found::open(&mut flash).expect("a flash that works");
        Self {
            flash,
            journal,
            told: vec![Vec::new()],
            now: 0,
        }
    }

    fn note(&mut self, record: Record) -> Result<Entry, JournalFault> {
        self.now += 1;
        self.journal.append(&mut self.flash, Stamp(self.now), record)
    }

    fn begin(&mut self) -> Result<u16, JournalFault> {
        let pair = self.told.len() as u16;
        let lines = knitting::plan();
        self.note(Record::PairBegun { pair, lines })?;
        self.told.push(Vec::new());
        Ok(pair)
    }

    fn knit(&mut self, pair: u16, marks: i32) {
        for mark in 0..marks {
            let event = PairEvent::Mark {
                line: (mark % 12) as u8,
                yarn: YarnLetter::A,
                weight: knitting::weight(100_000 - 100 * mark),
                used_u: None,
            };
            let entry = self
                .note(Record::OfPair {
                    pair,
                    event: event.clone(),
                })
                .expect("room");
            self.told[usize::from(pair)].push((entry.sequence, event));
        }
    }

    fn close(&mut self, pair: u16) {
        self.note(Record::PairClosed { pair }).expect("room is kept back");
        let sections = heapless::Vec::new();
        self.note(Record::Condensed { pair, sections }).expect("room");
    }

    fn checkpoints(&mut self) -> usize {
        let everything = Found::everything(&self.journal, &mut self.flash);
        let is_checkpoint = |entry: &&Entry| matches!(entry.record, Record::Checkpoint { .. });
        everything.iter().filter(is_checkpoint).count()
    }
}

/// What a start finds of a pair, each record once.
fn events(found: &Found, pair: u16) -> Vec<(Sequence, PairEvent)> {
    let mut events: Vec<(Sequence, PairEvent)> = Vec::new();
    for entry in &found.entries {
        let Some((of, event)) = entry.record.pair_event(0) else {
            continue;
        };
        if of == pair && events.last().is_none_or(|&(last, _)| entry.number() > last) {
            events.push((entry.number(), event));
        }
    }
    events
}

#[test]
fn eight_pairs_and_no_more_can_be_open() {
    let mut needles = Needles::new();
    for _ in 0..OPEN_PAIRS {
        needles.begin().expect("room");
    }
    assert_eq!(needles.begin(), Err(JournalFault::Full));
    needles.close(3);
    needles.begin().expect("room again");
}

#[test]
fn old_pairs_stay_whole_while_many_others_come_and_go() {
    let mut needles = Needles::new();
    let old: Vec<u16> = (0..3).map(|_| needles.begin().expect("room")).collect();
    for &pair in &old {
        needles.knit(pair, 40);
    }
    for round in 0..120 {
        let pair = needles.begin().expect("room");
        needles.knit(pair, 60);
        needles.knit(old[round % 3], 1);
        needles.close(pair);
    }
    // The ring went round: of the copies the older ones are gone.
    assert!(needles.checkpoints() >= 2);
    for pair in old {
        let told = needles.told[usize::from(pair)].clone();
        let (_, found) = Found::open(&mut needles.flash).expect("a flash that works");
        assert_eq!((found.gaps.len(), found.unreadable.len()), (0, 0));
        assert_eq!(events(&found, pair), told, "pair {pair}");
    }
}

/// Power fails at every operation of the flash while a checkpoint copies two open pairs.
#[test]
fn a_checkpoint_cut_off_anywhere_loses_no_open_pair() {
    let mut needles = Needles::new();
    for _ in 0..2 {
        let pair = needles.begin().expect("room");
        needles.knit(pair, 30);
    }
    // Up to the beginning that notes a checkpoint.
    let (at_rest, next) = loop {
        let (at_rest, before) = (needles.flash.copy(), needles.checkpoints());
        let next = needles.begin().expect("room");
        if needles.checkpoints() > before {
            break (at_rest, next);
        }
        needles.knit(next, 60);
        needles.close(next);
    };
    let told: Vec<_> = [1, 2].map(|pair| (pair, needles.told[pair].clone())).into();
    for cut in 0.. {
        let mut flash = at_rest.copy();
        let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
        flash.cut_after(cut, Tear::Subset(cut));
        let lines = knitting::plan();
        let whole = journal
            .append(&mut flash, Stamp(9_999), Record::PairBegun { pair: next, lines })
            .is_ok();
        flash.power_on();
        let (_, found) = Found::open(&mut flash).expect("a flash that works");
        for (pair, told) in &told {
            assert_eq!(&events(&found, *pair as u16), told, "pair {pair}, cut after {cut}");
        }
        if whole {
            assert!(cut > 60, "that was no checkpoint: {cut}");
            return;
        }
    }
}

/// The bytes that a checkpoint reckons with for each record are enough for any.
#[test]
fn no_copy_is_longer_than_reckoned_with() {
    let mut runner = TestRunner::deterministic();
    for kind in (0..EVENT_KINDS).cycle().take(40 * EVENT_KINDS) {
        let event = event_of_kind(kind).new_tree(&mut runner).expect("an event").current();
        let record = Record::Kept {
            pair: u16::MAX,
            number: Sequence(u32::MAX),
            event,
        };
        let entry = Entry {
            sequence: Sequence(u32::MAX),
            at: Stamp(u32::MAX),
            record,
        };
        let bytes = frame::item(&frame::data(&entry)).len();
        assert!(bytes <= 80, "{bytes} bytes: {entry:?}");
    }
    let lines = (0..24).map(|_| knitting::plan()[0]).collect();
    let entry = Entry {
        sequence: Sequence(u32::MAX),
        at: Stamp(u32::MAX),
        record: Record::PairBegun { pair: u16::MAX, lines },
    };
    let bytes = frame::item(&frame::data(&entry)).len();
    assert!(bytes <= 192, "{bytes} bytes");
}

/// A yarn of an open pair went on in one that is closed since; that was corrected, and another one taken back. A checkpoint keeps what the
/// open pair's chain needs, and nothing else of the closed one.
#[test]
fn what_ended_a_chain_outlives_the_pair_that_it_went_to() {
    let mut needles = Needles::new();
    let old = needles.begin().expect("room");
    needles.knit(old, 5);
    let other = needles.begin().expect("room");
    needles.knit(other, 3);
    let carried = |yarn| PairEvent::Carried {
        yarn,
        from: old,
        was: YarnLetter::A,
        weight: knitting::weight(50_000),
    };
    let mut note = |event: PairEvent| {
        let record = Record::OfPair { pair: other, event };
        needles.note(record).expect("room").sequence
    };
    let kept = note(carried(YarnLetter::B));
    let amended = note(PairEvent::Amended {
        of: kept,
        weight: knitting::weight(50_020),
    });
    let back = note(carried(YarnLetter::C));
    let undone = note(PairEvent::Undone { of: back });
    needles.close(other);
    while needles.checkpoints() < 2 {
        let pair = needles.begin().expect("room");
        needles.knit(pair, 60);
        needles.close(pair);
    }
    let (_, found) = Found::open(&mut needles.flash).expect("a flash that works");
    let told: Vec<Sequence> = events(&found, other).iter().map(|&(number, _)| number).collect();
    assert_eq!(told, [kept, amended, back, undone]);
    assert_eq!(events(&found, old), needles.told[usize::from(old)]);
}
