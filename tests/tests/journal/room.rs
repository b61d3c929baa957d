//! Making room where the memory is nearly full: the oldest closed pairs are let go, and nothing else.

use yarn_scale_core::journal::{Entry, JournalFault, Record, Room, Sequence, Setting, Usage};
use yarn_scale_core::ledger::condense;
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_tests::durability::{Found, Years, until_full};
use yarn_scale_tests::knitting;

/// 64 sectors, 16 of them for pairs.
const QUARTER: usize = 256 << 10;

/// Knits pairs until the journal warns: the number of the last one.
fn until_nearly_full(years: &mut Years) -> u16 {
    let mut pair = years.ledger.pair();
    while !years.journal.usage().is_nearly_full() {
        pair += 1;
        assert_eq!(room(years), None, "before pair {pair}");
        years.knit_a_pair(pair).expect("room");
    }
    pair
}

fn room(years: &mut Years) -> Option<Room> {
    years.journal.room(&mut years.flash).expect("a flash that works")
}

fn make(years: &mut Years) -> Room {
    let room = room(years).expect("need");
    years
        .note(Record::Setting(Setting::KeptFrom(room.from)))
        .expect("room is kept back for this");
    room
}

/// The pairs in short that are there, in their order.
fn in_short(years: &mut Years) -> Vec<Entry> {
    let (journal, found) = Found::open(&mut years.flash).expect("a flash that works");
    assert_eq!((found.gaps.len(), found.unreadable.len()), (0, 0));
    let mut entries = Found::everything(&journal, &mut years.flash);
    entries.retain(|entry| matches!(entry.record, Record::Condensed { .. }));
    entries
}

fn numbers(entries: &[Entry]) -> Vec<u16> {
    let pair = |entry: &Entry| match entry.record {
        Record::Condensed { pair, .. } => pair,
        _ => unreachable!("only those were kept"),
    };
    entries.iter().map(pair).collect()
}

#[test]
fn as_many_go_as_are_said_and_only_where_their_room_is_wanted() {
    let mut years = Years::new(QUARTER);
    let last = until_nearly_full(&mut years);
    let all = in_short(&mut years);
    let told = make(&mut years);
    // Two sectors of sixteen: those before the number, and no others.
    let go = all.partition_point(|entry| entry.sequence < told.from);
    assert_eq!((go, numbers(&all)[go - 1]), (usize::from(told.pairs), told.newest));
    assert!((20..100).contains(&told.pairs), "{told:?}");
    // Nothing is erased by it; and it need not be asked again.
    assert_eq!(in_short(&mut years), all);
    let usage = years.journal.usage();
    assert!(usage.percent() < Usage::WARNING_PERCENT, "{usage:?}");
    assert_eq!(room(&mut years), None);
    // As many fit again, and what was kept is kept.
    let (full, fault) = until_full_from(&mut years, last);
    assert_eq!(fault, JournalFault::Full);
    println!("{told:?}, warned at {last}, full at {full}");
    assert!(full - last > told.pairs, "{told:?}, warned at {last}, full at {full}");
    let then = numbers(&in_short(&mut years));
    assert_eq!(then, (told.newest + 1..full).collect::<Vec<u16>>());
}

fn until_full_from(years: &mut Years, last: u16) -> (u16, JournalFault) {
    let refused = (last + 1..u16::MAX).find_map(|pair| years.knit_a_pair(pair).err().map(|fault| (pair, fault)));
    refused.expect("some end")
}

#[test]
fn an_open_pair_is_whole_however_often_room_is_made() {
    let mut years = Years::new(QUARTER);
    until_nearly_full(&mut years);
    let pair = years.ledger.pair() + 1;
    let lines = knitting::plan();
    years.note(Record::PairBegun { pair, lines }).expect("room");
    let yarn = YarnLetter::B;
    let weigh_in = Record::WeighIn {
        yarn,
        weight: knitting::weight(60_000),
    };
    years.note(weigh_in).expect("room");
    for round in 0..3_u8 {
        make(&mut years);
        let mark = Record::Mark {
            line: round,
            yarn,
            weight: knitting::weight(50_000 - 1_000 * i32::from(round)),
        };
        years.note(mark).expect("room");
        // A restart, and other pairs meanwhile: in the journal alone, as computers and tests do.
        let (_, found) = Found::open(&mut years.flash).expect("a flash that works");
        let (ledger, refused) = found.ledger();
        assert_eq!((ledger.steps(), refused), (years.ledger.steps(), 0));
        let mut others = 0;
        while !years.journal.usage().is_nearly_full() {
            others += 1;
            let record = Record::Condensed {
                pair: 10_000 + 1_000 * u16::from(round) + others,
                sections: match condense(&years.ledger) {
                    Record::Condensed { sections, .. } => sections,
                    _ => unreachable!("condensing gives a condensed pair"),
                },
            };
            let at = years.note(record).expect("room");
            assert!(at.sequence > Sequence(0));
        }
    }
}

/// Full in the middle of the marks, too: what is kept back takes the one record that makes room.
#[test]
fn a_journal_that_is_full_to_the_last_byte_goes_on_after_room_is_made() {
    let mut years = Years::new(QUARTER);
    let (full, _) = until_full(&mut years, |_, _| {});
    let mut more = 0;
    while years.note(Record::Setting(Setting::Sound(more % 2 == 0))).is_ok() {
        more += 1;
    }
    let sound = Record::Setting(Setting::Sound(true));
    assert_eq!(years.note(sound.clone()), Err(JournalFault::Full));
    println!("full at {full}, then {more} settings");
    make(&mut years);
    // The last pair was closed and had no room in short.
    assert_eq!(
        years.note(Record::PairBegun {
            pair: full + 1,
            lines: knitting::plan()
        }),
        Err(JournalFault::Uncondensed)
    );
    years.note(condense(&years.ledger.clone())).expect("room");
    years.note(sound).expect("room");
    for pair in full + 1..full + 20 {
        years
            .knit_a_pair(pair)
            .unwrap_or_else(|fault| panic!("pair {pair}: {fault:?}"));
    }
}

/// Whatever number a journal from elsewhere holds: the newest pairs are never overwritten.
#[test]
fn a_number_beyond_all_lets_go_of_no_sector_that_is_being_written() {
    let mut years = Years::new(QUARTER);
    let last = until_nearly_full(&mut years);
    years
        .note(Record::Setting(Setting::KeptFrom(Sequence(u32::MAX))))
        .expect("room");
    for pair in last + 1..last + 400 {
        years
            .knit_a_pair(pair)
            .unwrap_or_else(|fault| panic!("pair {pair}: {fault:?}"));
        if years.journal.usage().is_nearly_full() {
            break;
        }
    }
    let kept = numbers(&in_short(&mut years));
    let newest = years.ledger.pair();
    assert!(newest - last > 100, "{newest}");
    assert_eq!(
        kept,
        (newest + 1 - u16::try_from(kept.len()).expect("few")..=newest).collect::<Vec<u16>>()
    );
}
