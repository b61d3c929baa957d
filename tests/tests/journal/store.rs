//! The journal on a simulated flash: what was noted is there after every power-off, in order, and room is made for more
//! without losing anything that counts.

use yarn_scale_core::journal::{
    Entry, Journal, JournalFault, Record, Replayed, RingName, Sequence, Setting, StartCause,
};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::Years;
use yarn_scale_tests::knitting;

/// Opens the journal and lists what replay gives.
fn open(flash: &mut SimFlash) -> (Journal, Vec<Entry>) {
    let mut entries = Vec::new();
    let journal = Journal::open(flash, |replayed| match replayed {
        Replayed::Entry(entry) => entries.push(entry.clone()),
        Replayed::Gap { .. } | Replayed::Unreadable { .. } => panic!("{replayed:?} in an unharmed journal"),
    })
    .expect("a flash that works");
    (journal, entries)
}

fn ledger(entries: &[Entry]) -> Ledger {
    let mut ledger = Ledger::default();
    for entry in entries {
        ledger.apply(entry).expect("entries in order");
    }
    ledger
}

#[test]
fn a_blank_flash_is_an_empty_journal_and_is_left_alone() {
    let mut flash = SimFlash::blank(1 << 20);
    let (_, entries) = open(&mut flash);
    assert_eq!(entries, []);
    assert_eq!(flash.counts().operations(), 0);
}

#[test]
fn a_flash_of_eleven_sectors_is_refused() {
    let mut flash = SimFlash::blank(11 * 4_096);
    let refused = Journal::open(&mut flash, |_| {}).expect_err("too small");
    assert_eq!(refused, JournalFault::Unsuitable);
}

#[test]
fn what_was_noted_comes_back_in_order_with_numbers_from_one() {
    let mut flash = SimFlash::blank(64 << 10);
    let (mut journal, _) = open(&mut flash);
    let records = knitting::pair(1, Sequence(1));
    let mut noted = Vec::new();
    for (second, record) in (100..).zip(records) {
        noted.push(journal.append(&mut flash, Stamp(second), record).expect("room"));
        let (reopened, entries) = open(&mut flash);
        assert_eq!(entries, noted);
        journal = reopened;
    }
    assert_eq!(noted.first().map(|entry| entry.sequence), Some(Sequence(1)));
    assert!(
        noted
            .windows(2)
            .all(|pair| pair[1].sequence.0 == pair[0].sequence.0 + 1)
    );
}

#[test]
fn visits_and_starts_are_kept_apart_and_their_oldest_go() {
    let mut flash = SimFlash::blank(64 << 10);
    let (mut journal, _) = open(&mut flash);
    let begun = Record::PairBegun {
        pair: 1,
        lines: knitting::plan(),
    };
    journal.append(&mut flash, Stamp(1), begun.clone()).expect("room");
    for second in 0..2_000 {
        journal
            .append(&mut flash, Stamp(second), knitting::visit(second as i32))
            .expect("visits always find room");
    }
    journal
        .append(&mut flash, Stamp(2_000), Record::Started(StartCause::PowerOn))
        .expect("room");
    let (_, entries) = open(&mut flash);
    assert_eq!(entries[0].record, begun);
    assert_eq!(entries[entries.len() - 1].record, Record::Started(StartCause::PowerOn));
    let visits = &entries[1..entries.len() - 1];
    assert!(visits.len() > 130, "{} visits", visits.len());
    for (entry, second) in visits.iter().rev().zip((0..2_000).rev()) {
        assert_eq!(entry.record, knitting::visit(second));
    }
}

#[test]
fn pairs_are_noted_after_the_ring_is_full_and_all_are_kept_condensed() {
    let mut flash = SimFlash::blank(128 << 10);
    let (mut journal, _) = open(&mut flash);
    let mut live = Ledger::default();
    let mut tables = Vec::new();
    for number in 1..=150 {
        let (reopened, entries) = open(&mut flash);
        journal = reopened;
        assert_eq!(ledger(&entries), live);
        let begun = journal.append(&mut flash, Stamp(1), knitting::pair(number, Sequence(0))[0].clone());
        let begun = begun.expect("room for a pair");
        live.apply(&begun).expect("a pair begins");
        for record in knitting::pair(number, begun.sequence).into_iter().skip(1) {
            let entry = journal.append(&mut flash, Stamp(2), record).expect("room");
            live.apply(&entry).expect("in order");
        }
        let table = condense(&live);
        journal
            .append(&mut flash, Stamp(3), table.clone())
            .expect("room for a table");
        tables.push(table);
        journal.tidy(&mut flash).expect("a flash that works");
    }
    assert!(
        flash.wear().iter().any(|&erases| erases > 0),
        "the ring never came round"
    );
    assert_eq!(journal.condensed(), 150);
    let mut kept = Vec::new();
    let mut from = journal.first();
    while let Some(place) = from {
        from = journal
            .read(&mut flash, place, |replayed| {
                if let Replayed::Entry(entry) = replayed
                    && let Record::Condensed { .. } = entry.record
                {
                    kept.push(entry.record.clone());
                }
            })
            .expect("a flash that works");
    }
    assert_eq!(kept, tables);
}

/// Years of nothing but settings, started anew now and again: there is always room, nothing is missing, and the last pair keeps its
/// number, so that the next one does not get it a second time.
#[test]
fn settings_alone_find_room_for_ever_and_the_last_pair_keeps_its_number() {
    let mut years = Years::new(48 << 10);
    for pair in 1..=2 {
        years.knit_a_pair(pair).expect("room");
    }
    for number in 0..5_000 {
        let setting = Record::Setting(Setting::Brightness(number as u8));
        years.note(setting.clone()).expect("room");
        if number % 100 == 0 {
            let (journal, entries) = open(&mut years.flash);
            years.journal = journal;
            let ledger = ledger(&entries);
            assert_eq!((ledger.pair(), ledger.is_open()), (2, false), "after {number} settings");
            let last = entries.iter().rfind(|entry| matches!(entry.record, Record::Setting(_)));
            assert_eq!(last.map(|entry| &entry.record), Some(&setting));
        }
    }
}

/// What stands among the marks, with the sectors that it is in.
fn marks_by_sector(journal: &Journal, flash: &mut SimFlash) -> Vec<(u16, Record)> {
    let mut marks = Vec::new();
    let mut next = journal.place(1, None);
    while let Some(place) = next.filter(|place| place.ring() == RingName::Marks) {
        next = journal
            .read(flash, place, |replayed| {
                if let Replayed::Entry(entry) = replayed {
                    marks.push((place.sector(), entry.record.clone()));
                }
            })
            .expect("a flash that works");
    }
    marks
}

/// A pair is begun behind a checkpoint, and the two may come to stand in two sectors. However long the pair grows, so that all before it
/// makes room, a start finds it whole.
#[test]
fn a_long_pair_is_whole_although_its_checkpoint_ends_another_sector() {
    let mut years = Years::new(48 << 10);
    for pair in 1..=12 {
        years.knit_a_pair(pair).expect("room");
    }
    let begun = Record::PairBegun {
        pair: 13,
        lines: knitting::plan(),
    };
    // As many settings before it as make the checkpoint the last record of its sector.
    let parted = (0..500).any(|_| {
        let (mut flash, mut journal) = (years.flash.copy(), years.journal.clone());
        journal.append(&mut flash, Stamp(1), begun.clone()).expect("room");
        let marks = marks_by_sector(&journal, &mut flash);
        let parted = matches!(
            &marks[marks.len() - 2..],
            [(one, Record::Checkpoint { alone: false, .. }), (other, Record::PairBegun { .. })] if one != other
        );
        if !parted {
            years.note(Record::Setting(Setting::Sound(true))).expect("room");
        }
        parted
    });
    assert!(parted);
    let first = years.note(begun).expect("room");
    let before = years.flash.wear().iter().sum::<u32>();
    let line = knitting::plan()[3];
    let mut noted = vec![first];
    while let Ok(entry) = years.note(Record::LineChanged { index: 3, line }) {
        noted.push(entry);
    }
    assert!(years.flash.wear().iter().sum::<u32>() > before + 2, "it is not long");
    let (_, entries) = open(&mut years.flash);
    for entry in &noted {
        assert!(entries.contains(entry), "{entry:?} is gone");
    }
}
