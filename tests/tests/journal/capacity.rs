//! How much the device's journal holds, what happens long before it is full and then, and how long it lasts.

use yarn_scale_core::journal::{Entry, JournalFault, Record, RingName, Sequence, Setting, Usage};
use yarn_scale_core::ledger::condense;
use yarn_scale_core::units::Stamp;
use yarn_scale_tests::durability::{DEVICE, Found, SeveralPairs, Years, endurance_years, frame, until_full};
use yarn_scale_tests::knitting;
use yarn_scale_tests::standing::standing;

#[test]
fn three_hundred_pairs_are_kept_mark_by_mark_and_no_warning_is_near() {
    let mut years = Years::new(DEVICE);
    for pair in 1..=300 {
        years.knit_a_pair(pair).expect("room");
    }
    let everything = Found::everything(&years.journal, &mut years.flash);
    let marks = everything
        .iter()
        .filter(|entry| matches!(entry.record, Record::Mark { .. }));
    assert_eq!(marks.count(), 300 * Years::MARKS_A_PAIR);
    assert_eq!(Years::MARKS_A_PAIR * 300, 6_000);
    let usage = years.journal.usage();
    println!("{usage:?}");
    assert!(usage.percent() < 30, "{usage:?}");
}

#[test]
fn the_warning_comes_a_hundred_pairs_before_the_end_and_none_is_lost() {
    let mut years = Years::new(DEVICE);
    let mut warned = None;
    let mut tables = Vec::new();
    let (full, fault) = until_full(&mut years, |pair, years| {
        tables.push(condense(&years.ledger));
        if years.journal.usage().is_nearly_full() {
            warned.get_or_insert(pair);
        }
    });
    // The last one found no room.
    tables.pop();
    let warned = warned.expect("a warning");
    println!("warned at pair {warned}, full at pair {full}");
    assert_eq!(fault, JournalFault::Full);
    assert!(full - warned >= 100, "warned at pair {warned}, full at pair {full}");
    assert!(full > 1_000, "full at pair {full}");
    // The pair that could not be condensed is still there mark by mark, and the next one is refused, again and again.
    let begun = Record::PairBegun {
        pair: full + 1,
        lines: knitting::plan(),
    };
    for _ in 0..3 {
        assert_eq!(years.note(begun.clone()), Err(JournalFault::Uncondensed));
    }
    let (journal, found) = Found::open(&mut years.flash).expect("a flash that works");
    let (ledger, refused) = found.ledger();
    assert_eq!(
        (ledger.pair(), ledger.steps(), refused),
        (full, years.ledger.steps(), 0)
    );
    assert_eq!((found.gaps.len(), found.unreadable.len()), (0, 0));
    let everything = Found::everything(&journal, &mut years.flash);
    let kept = everything.into_iter().map(|entry| entry.record);
    let kept: Vec<Record> = kept
        .filter(|record| matches!(record, Record::Condensed { .. }))
        .collect();
    assert_eq!(kept, tables);
    assert!(journal.usage().percent() >= Usage::WARNING_PERCENT);
}

/// With several pairs on the needles as many are kept, and the marks never fill: what is open is copied at each checkpoint.
#[test]
fn three_pairs_at_a_time_fit_as_often_as_one() {
    for at_once in [3, 8] {
        let mut several = SeveralPairs::new(false);
        let (full, warned, fault) = several.until_full(at_once);
        let usage = several.journal.usage();
        println!("{at_once} at once: warned at {warned}, full at {full}, {usage:?}");
        assert_eq!(fault, JournalFault::Full);
        assert!(
            full > 1_000 && full - warned >= 100,
            "warned at {warned}, full at {full}"
        );
        assert!(usage.pairs_percent == 100 && usage.marks_percent < 50, "{usage:?}");
    }
}

#[test]
fn starting_with_a_full_journal_reads_a_sixth_of_it() {
    let mut years = Years::new(DEVICE);
    for pair in 1..=900 {
        years.knit_a_pair(pair).expect("room");
        years.visit(5).expect("room");
    }
    years.flash.forget_counts();
    let (_, found) = Found::open(&mut years.flash).expect("a flash that works");
    let counts = *years.flash.counts();
    println!("{counts:?}, {} entries", found.entries.len());
    assert!(counts.bytes_read < DEVICE as u64 / 6, "{counts:?}");
    assert!(counts.reads < 20_000, "{counts:?}");
    assert!(found.of(RingName::Visits).count() > 130);
    assert!(found.of(RingName::Pairs).count() > 24);
}

#[test]
fn a_pair_that_outgrows_the_ring_is_refused_and_can_still_be_closed() {
    let mut years = Years::new(48 << 10);
    years.knit_a_pair(1).expect("room");
    years
        .note(Record::PairBegun {
            pair: 2,
            lines: knitting::plan(),
        })
        .expect("room");
    let change = |index: u32| Record::LineChanged {
        index: (index % 12) as u8,
        line: knitting::plan()[(index % 12) as usize],
    };
    let refused = (0..).find_map(|index| years.note(change(index)).err().map(|fault| (index, fault)));
    let (noted, fault) = refused.expect("some end");
    assert_eq!(fault, JournalFault::Full);
    let (_, found) = Found::open(&mut years.flash).expect("a flash that works");
    let changes = found
        .entries
        .iter()
        .filter(|entry| matches!(entry.record, Record::LineChanged { .. }));
    assert_eq!(changes.count() as u32, noted);
    years
        .note(Record::PairClosed { pair: 2 })
        .expect("room is kept back for this");
    // Whatever is noted before the pair is condensed does not take the room that the next checkpoint needs.
    while years.note(Record::Setting(Setting::Sound(true))).is_ok() {}
    years.note(condense(&years.ledger.clone())).expect("room");
    for pair in 3..30 {
        years
            .knit_a_pair(pair)
            .unwrap_or_else(|fault| panic!("pair {pair}: {fault:?}"));
    }
}

/// A journal that is full in the middle of a pair, with every bowl, label, name and setting there can be: closing the pair makes room all the
/// same, for what is kept back takes all that stands once more.
#[test]
fn a_full_journal_with_everything_that_can_stand_goes_on_after_the_pair() {
    let mut years = Years::new(48 << 10);
    for record in standing(1) {
        years.note(record).expect("room");
    }
    years.knit_a_pair(1).expect("room");
    let lines = knitting::plan();
    let line = lines[0];
    years.note(Record::PairBegun { pair: 2, lines }).expect("room");
    while years.note(Record::LineChanged { index: 0, line }).is_ok() {}
    years
        .note(Record::PairClosed { pair: 2 })
        .expect("room is kept back for this");
    years.note(condense(&years.ledger.clone())).expect("room");
    years.knit_a_pair(3).expect("room");
    let (_, found) = Found::open(&mut years.flash).expect("a flash that works");
    for record in standing(1) {
        assert!(
            found.entries.iter().any(|entry| entry.record == record),
            "{record:?} is gone"
        );
    }
    // What that took, at the longest numbers and times there are; 1,700 bytes are kept back.
    let checkpoint = Record::Checkpoint {
        from: Sequence(u32::MAX),
        pair: u16::MAX,
        alone: true,
    };
    let last = [
        Record::Lost { count: u16::MAX },
        Record::PairClosed { pair: u16::MAX },
        Record::Setting(Setting::KeptFrom(Sequence(u32::MAX))),
        checkpoint,
    ];
    let longest = standing(1).into_iter().chain(last).map(|record| {
        let (sequence, at) = (Sequence(u32::MAX), Stamp(u32::MAX));
        frame::item(&frame::data(&Entry { sequence, at, record })).len()
    });
    let bytes: usize = longest.sum();
    println!("{bytes} bytes");
    assert!(bytes < 1_700, "{bytes} bytes");
}

#[test]
fn the_flash_outlives_its_owner() {
    let years = endurance_years(400).expect("room");
    println!("{years:.0} years at 20 marks and 200 visits a day");
    assert!(years > 100.0);
}
