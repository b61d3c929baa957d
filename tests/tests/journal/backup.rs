//! Reading the journal out sector by sector, and giving a backup back: what continues the journal is taken, nothing else.

use yarn_scale_core::checksum::Crc32;
use yarn_scale_core::journal::{
    Entry, Journal, MAX_ENCODED, Record, Replayed, RingName, Sequence, Setting, encode, packed,
};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::Found;
use yarn_scale_tests::knitting;

const CAPACITY: usize = 48 << 10;

fn blank() -> (SimFlash, Journal) {
    let mut flash = SimFlash::blank(CAPACITY);
    let (journal, _) = Found::open(&mut flash).expect("a flash that works");
    (flash, journal)
}

/// Entries with these numbers.
fn entries(numbers: impl IntoIterator<Item = u32>, record: impl Fn(u32) -> Record) -> Vec<Entry> {
    let entry = |number| Entry {
        sequence: Sequence(number),
        at: Stamp(number),
        record: record(number),
    };
    numbers.into_iter().map(entry).collect()
}

fn setting(number: u32) -> Record {
    Record::Setting(Setting::Brightness(number as u8))
}

fn visit(number: u32) -> Record {
    knitting::visit(number as i32)
}

/// A row of entries as a backup gives it back.
fn row(entries: &[Entry]) -> heapless::Vec<u8, 1_024> {
    let mut row = heapless::Vec::new();
    for entry in entries {
        packed::put(&mut row, encode(entry, &mut [0; MAX_ENCODED]).expect("a sound entry")).expect("room");
    }
    row
}

/// What stands in the ring of this number.
fn there(journal: &Journal, flash: &mut SimFlash, part: u8) -> Vec<Entry> {
    let mut there = Vec::new();
    let mut next = journal.place(part, None);
    while let Some(place) = next.filter(|place| place.part() == part) {
        next = journal
            .read(flash, place, |replayed| {
                if let Replayed::Entry(entry) = replayed {
                    there.push(entry.clone());
                }
            })
            .expect("a flash that works");
    }
    there
}

/// A backup of a journal whose oldest marks had made room begins with a high number, and goes on an empty scale all the same. A part
/// that comes twice is refused; what the backup lacks is told by replay, as on the scale that it is of.
#[test]
fn a_backup_may_begin_anywhere_and_have_gaps_but_nothing_twice() {
    let (mut flash, mut journal) = blank();
    journal.begin_restore(&mut flash).expect("room");
    let all = entries(41..47, setting);
    let mut give = |part: &[Entry]| journal.take_over(&mut flash, RingName::Marks, &row(part));
    assert_eq!(give(&all[..2]), Ok(true));
    assert_eq!(give(&all[1..]), Ok(false), "one comes again");
    assert_eq!(give(&entries([44, 43], setting)), Ok(false), "backwards");
    assert_eq!(give(&[]), Ok(false), "nothing is no part of a backup");
    assert_eq!(give(&all[3..]), Ok(true), "one is missing");
    let with_gap: Vec<Entry> = all
        .iter()
        .enumerate()
        .filter(|(place, _)| *place != 2)
        .map(|(_, entry)| entry.clone())
        .collect();
    assert_eq!(there(&journal, &mut flash, 1), with_gap);
    let mut sum = Crc32::new();
    for entry in &with_gap {
        sum.take(&[1]);
        sum.take(&row(std::slice::from_ref(entry)));
    }
    assert_eq!(journal.end_restore(&mut flash, 5, sum.value()), Ok(true));
    let mut gaps = Vec::new();
    Journal::open(&mut flash, |replayed| {
        if let Replayed::Gap { among, missing } = replayed {
            gaps.push((among, missing));
        }
    })
    .expect("a flash that works");
    // All before the first, of which a scale cannot know that they had made room; and the one.
    assert_eq!(gaps, [(RingName::Marks, 40), (RingName::Marks, 1)]);
}

/// The oldest visits go without being reported as missing: a backup of them may have gaps, but goes forwards.
#[test]
fn visits_of_a_backup_may_have_gaps_and_go_forwards() {
    let (mut flash, mut journal) = blank();
    journal.begin_restore(&mut flash).expect("room");
    let mut give = |numbers: &[u32]| {
        let part = entries(numbers.iter().copied(), visit);
        journal.take_over(&mut flash, RingName::Visits, &row(&part))
    };
    assert_eq!(give(&[7, 8, 12]), Ok(true));
    assert_eq!(give(&[12]), Ok(false));
    assert_eq!(give(&[15, 14]), Ok(false));
    assert_eq!(give(&[13, 20]), Ok(true));
    assert_eq!(there(&journal, &mut flash, 2), entries([7, 8, 12, 13, 20], visit));
}

/// A row that was cut off on the way, or holds anything else, is refused as a whole.
#[test]
fn half_a_row_is_not_taken_over() {
    let (mut flash, mut journal) = blank();
    let whole = row(&entries(1..4, setting));
    for length in 0..whole.len() {
        journal.begin_restore(&mut flash).expect("room");
        let begun = flash.counts().operations();
        let taken = journal.take_over(&mut flash, RingName::Marks, &whole[..length]);
        // What ends with an entry is a shorter row, which is as good.
        let ends = (1..4).any(|more| row(&entries(1..more, setting)).len() == length && length > 0);
        if !ends {
            assert_eq!(taken, Ok(false), "{length} bytes");
            assert_eq!(flash.counts().operations(), begun, "{length} bytes");
        } else {
            (flash, journal) = blank();
        }
    }
}

/// A computer that was interrupted goes on reading where it was, by the number of the ring and of its sector.
#[test]
fn every_sector_is_found_again_by_its_numbers() {
    let (mut flash, mut journal) = blank();
    let mut second = 0;
    while journal.usage().marks_percent < 60 {
        second += 1;
        journal
            .append(&mut flash, Stamp(second), setting(second))
            .expect("room");
        journal.append(&mut flash, Stamp(second), visit(second)).expect("room");
    }
    let mut parts = Vec::new();
    let mut next = journal.first();
    while let Some(place) = next {
        parts.push((place.ring(), place.part(), place.sector()));
        assert_eq!(journal.place(place.part(), Some(place.sector())), Some(place));
        next = journal.read(&mut flash, place, |_| {}).expect("a flash that works");
    }
    let marks = (0..4).map(|sector| (RingName::Marks, 1, sector));
    let (pairs, visits) = ((RingName::Pairs, 0, 0), RingName::Visits);
    assert_eq!(parts[..5], [pairs].into_iter().chain(marks).collect::<Vec<_>>());
    assert!(
        parts[5..].iter().all(|&(ring, part, _)| (ring, part) == (visits, 2)),
        "{parts:?}"
    );
    // Three sectors of pairs, six of marks, three of visits; and no fourth ring.
    for (part, sectors) in [(0, 3), (1, 6), (2, 3), (3, 0)] {
        for sector in 0..8 {
            assert_eq!(
                journal.place(part, Some(sector)).is_some(),
                sector < sectors,
                "sector {sector} of {part}"
            );
        }
    }
}
