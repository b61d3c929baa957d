//! Age and strangers: single bits that turn over, sectors of garbage, items of other programs and versions. Never believed,
//! told at their place; all else survives, and the scale goes on.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use yarn_scale_core::journal::{Entry, Record, RingName, Sequence, Setting};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::{Found, Unharmed, frame, only_settings, round_the_ring, tell};

const CAPACITY: usize = 48 << 10;

#[test]
fn a_bit_that_turns_over_in_a_record_is_told_and_takes_nothing_else() {
    let unharmed = Unharmed::closed_pair();
    let (written, _) = unharmed.written_and_blank();
    let counts = unharmed
        .flip_all(&written, 0..8)
        .unwrap_or_else(|what| panic!("{what}"));
    println!("{counts:?}");
    assert!(counts.tried > 10_000, "{counts:?}");
    // All but those of the marks at the beginning of a sector, which stand for more than one bit.
    assert_eq!(counts.tried - counts.records_lost, 3 * 8);
    assert!(counts.in_doubt > 2_000, "{counts:?}");
}

#[test]
fn a_bit_that_turns_over_elsewhere_changes_nothing() {
    let unharmed = Unharmed::new(tell(&round_the_ring(30), CAPACITY).expect("a story"));
    let (_, blank) = unharmed.written_and_blank();
    let sample: Vec<usize> = blank.iter().copied().step_by(29).collect();
    let counts = unharmed.flip_all(&sample, 0..2).unwrap_or_else(|what| panic!("{what}"));
    assert!(counts.tried > 500, "{counts:?}");
    assert_eq!(counts.records_lost, 0);
}

/// Notes something, opens again, and finds it behind what was there.
fn goes_on(flash: &mut SimFlash) -> Entry {
    let (mut journal, before) = Found::open(flash).expect("a flash that works");
    let entry = journal
        .append(flash, Stamp(5), Record::Setting(Setting::Brightness(2)))
        .expect("room");
    let (_, found) = Found::open(flash).expect("a flash that works");
    for known in before.entries.iter().chain([&entry]) {
        assert!(found.entries.contains(known), "{known:?} is gone");
    }
    entry
}

#[test]
fn what_never_was_a_journal_is_told_and_written_over() {
    let mut random = Pcg64Mcg::seed_from_u64(8);
    let noise: Vec<u8> = (0..CAPACITY).map(|_| random.random()).collect();
    let on_blank = pairs_until_full(SimFlash::blank(CAPACITY));
    assert!(on_blank > 200, "{on_blank}");
    let text = b"Any other program's settings. ".iter().copied().cycle().take(CAPACITY);
    for content in [vec![0; CAPACITY], vec![0xA1; CAPACITY], noise, text.collect()] {
        let mut flash = SimFlash::with_content(content);
        let (_, found) = Found::open(&mut flash).expect("a flash that works");
        assert_eq!(found.entries, []);
        assert_eq!(found.unreadable, [RingName::Pairs, RingName::Marks, RingName::Visits]);
        // The first number goes to the note that something before it cannot be read.
        assert_eq!(goes_on(&mut flash).sequence, Sequence(2));
        // Of what was there no sector is skipped, and none is left.
        assert_eq!(pairs_until_full(flash.copy()), on_blank);
        keeps_years_of_settings(&mut flash);
        let marks = flash.content()[FIRST_MARKS..].chunks(4_096);
        let blank = |sector: &[u8]| sector.iter().all(|&byte| byte == 0xFF);
        assert!(
            marks.clone().all(|sector| sector[0] == 0 || blank(sector)),
            "a sector is left as it was"
        );
    }
}

/// How many pairs in short find room.
fn pairs_until_full(mut flash: SimFlash) -> usize {
    let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
    let table = condense(&Ledger::default());
    (0..)
        .take_while(|_| journal.append(&mut flash, Stamp(1), table.clone()).is_ok())
        .count()
}

/// Notes so many settings that the ring of marks comes round, each of which finds room.
fn keeps_years_of_settings(flash: &mut SimFlash) {
    let (mut journal, _) = Found::open(flash).expect("a flash that works");
    for number in 0..1_600 {
        let noted = journal.append(flash, Stamp(number), Record::Setting(Setting::Brightness(number as u8)));
        assert!(noted.is_ok(), "record {number}: {noted:?}");
    }
    let (_, found) = Found::open(flash).expect("a flash that works");
    assert_eq!(
        (found.gaps.len(), found.of(RingName::Marks).last().map(|entry| entry.at)),
        (0, Some(Stamp(1_599)))
    );
}

/// A bit that has turned over where the next record would go: that record goes elsewhere, and what stands there is left alone, for
/// old and new bits together could read as a record that was never noted.
#[test]
fn nothing_is_written_over_a_bit_that_stands_behind_the_last_record() {
    let story = tell(&only_settings(5), CAPACITY).expect("a story");
    let end = story.content().iter().rposition(|&byte| byte != 0xFF).expect("records") + 1;
    for byte in end..end + 100 {
        let mut flash = story.copy();
        flash.flip(byte, 0);
        let before = flash.content()[end..=byte].to_vec();
        goes_on(&mut flash);
        assert_eq!(
            flash.content()[end..=byte],
            before,
            "{} bytes behind the end",
            byte - end
        );
    }
}

/// A sector that can no longer be read while the scale is on: what comes next is kept in another one at once, not only after a start.
#[test]
fn a_sector_that_fails_while_it_is_written_costs_no_record_to_come() {
    let mut flash = SimFlash::blank(CAPACITY);
    let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
    let mut note = |flash: &mut SimFlash, number| {
        let noted = journal.append(flash, Stamp(number), Record::Setting(Setting::Brightness(number as u8)));
        noted.expect("room")
    };
    note(&mut flash, 1);
    // Both marks of the sector say the opposite: no state that it can be in.
    for bit in 0..8 {
        flash.flip(FIRST_MARKS, bit);
        flash.flip(FIRST_MARKS + 4_095, bit);
    }
    let kept = [2, 3].map(|number| note(&mut flash, number));
    let (_, found) = Found::open(&mut flash).expect("a flash that works");
    assert_eq!(found.entries, kept);
    assert_eq!(found.gaps, [(0, RingName::Marks, 1)]);
}

/// A journal of 48 KiB whose ring of marks holds these items in its first sector.
fn forged<'i>(items: impl IntoIterator<Item = &'i [u8]>) -> SimFlash {
    let mut content = vec![0xFF; CAPACITY];
    content[FIRST_MARKS..FIRST_MARKS + 4_096].copy_from_slice(&frame::sector(items));
    SimFlash::with_content(content)
}

/// Three sectors of visits and three of pairs stand before the marks.
const FIRST_MARKS: usize = 6 * 4_096;

fn numbered(sequence: u32, record: Record) -> Entry {
    Entry {
        sequence: Sequence(sequence),
        at: Stamp(sequence),
        record,
    }
}

fn brightness(sequence: u32) -> Entry {
    numbered(sequence, Record::Setting(Setting::Brightness(sequence as u8)))
}

#[test]
fn what_the_library_writes_is_what_its_documentation_says() {
    let [first, second] = [1, 2].map(brightness);
    let mut flash = SimFlash::blank(CAPACITY);
    let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
    for entry in [&first, &second] {
        journal
            .append(&mut flash, entry.at, entry.record.clone())
            .expect("room");
    }
    let data = [frame::data(&first), frame::data(&second)];
    assert_eq!(flash.content(), forged(data.iter().map(Vec::as_slice)).content());
}

#[test]
fn a_record_of_a_later_version_counts_as_missing_and_is_kept() {
    let [first, mut later, third] = [1, 2, 3].map(|sequence| frame::data(&brightness(sequence)));
    later[0] += 1;
    let mut flash = forged([first.as_slice(), &later, &third]);
    let (_, found) = Found::open(&mut flash).expect("a flash that works");
    assert_eq!(found.entries, [brightness(1), brightness(3)]);
    assert_eq!(found.gaps, [(1, RingName::Marks, 1)]);
    assert_eq!(goes_on(&mut flash).sequence, Sequence(4));
    let kept = &flash.content()[FIRST_MARKS..];
    assert!(
        kept.windows(later.len()).any(|window| window == later),
        "the later record is gone"
    );
}

#[test]
fn a_number_that_was_there_before_is_not_believed() {
    let twin = numbered(2, Record::Setting(Setting::Sound(true)));
    let data = [brightness(1), brightness(2), twin, brightness(3)].map(|entry| frame::data(&entry));
    let mut flash = forged(data.iter().map(Vec::as_slice));
    let (_, found) = Found::open(&mut flash).expect("a flash that works");
    assert_eq!(found.entries, [1, 2, 3].map(brightness));
    assert_eq!(found.gaps, [(2, RingName::Marks, 0)]);
    assert_eq!(goes_on(&mut flash).sequence, Sequence(4));
}

#[test]
fn the_highest_number_there_is_does_not_stop_the_journal() {
    let data = frame::data(&brightness(u32::MAX));
    let mut flash = forged([data.as_slice()]);
    let (_, found) = Found::open(&mut flash).expect("a flash that works");
    assert_eq!(found.gaps, [(0, RingName::Marks, u32::MAX - 1)]);
    goes_on(&mut flash);
    goes_on(&mut flash);
}

#[test]
fn items_of_another_program_are_no_records() {
    let ours = frame::data(&brightness(1));
    let mut flash = forged([b"theirs".as_slice(), &[0xB1, 9, 0, 19, 1], &ours]);
    let (_, found) = Found::open(&mut flash).expect("a flash that works");
    assert_eq!(found.entries, [brightness(1)]);
    assert_eq!(goes_on(&mut flash).sequence, Sequence(2));
}

#[test]
fn a_lost_sector_is_told_by_its_number_of_records_and_the_others_stay() {
    let flash = tell(&only_settings(500), CAPACITY).expect("a story");
    let whole = Found::open(&mut flash.copy()).expect("a flash that works").1;
    for (fill, sector) in [(0xFF, 7), (0x00, 7), (0x5A, 6)] {
        let mut content = flash.content().to_vec();
        content[sector * 4_096..][..4_096].fill(fill);
        let mut harmed = SimFlash::with_content(content);
        let (_, found) = Found::open(&mut harmed).expect("a flash that works");
        let lost = whole.entries.len() - found.entries.len();
        assert!(found.entries.iter().all(|entry| whole.entries.contains(entry)));
        assert_eq!(found.gaps.iter().map(|gap| gap.2 as usize).sum::<usize>(), lost);
        assert!(lost > 100, "sector {sector} held {lost} records");
        goes_on(&mut harmed);
    }
}
