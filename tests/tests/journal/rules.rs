//! The journal's rules one by one, each at its edge: how full it says it is, what stands although its sector is gone, what is
//! told of a damaged end, and how far back a start reads.

use std::collections::BTreeMap;

use embedded_storage::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
use yarn_scale_core::journal::{Entry, Journal, Named, Record, Replayed, RingName, Sequence, Setting, Usage};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::sock::{Humidity, YarnLetter};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::{FlashFault, SimFlash};
use yarn_scale_tests::durability::{Found, Years, only_settings, tell};
use yarn_scale_tests::knitting;
use yarn_scale_tests::standing::standing;

const CAPACITY: usize = 48 << 10;
const SECTOR: usize = 4_096;

#[test]
fn the_fuller_ring_counts_and_the_warning_comes_at_nine_tenths() {
    for (pairs, marks, percent) in [(20, 30, 30), (30, 20, 30), (0, 0, 0), (7, 7, 7)] {
        let usage = Usage {
            pairs_percent: pairs,
            marks_percent: marks,
        };
        assert_eq!(usage.percent(), percent);
    }
    for (percent, warns) in [(0, false), (89, false), (90, true), (100, true)] {
        let usage = Usage {
            pairs_percent: percent,
            marks_percent: 0,
        };
        assert_eq!(usage.is_nearly_full(), warns, "{percent} %");
    }
}

/// On 48 KiB the ring of marks has six sectors and that of pairs three: each new sector is a fifth, or a half, more.
#[test]
fn what_is_taken_is_counted_in_sectors() {
    let mut flash = SimFlash::blank(CAPACITY);
    let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
    let mut marks = vec![journal.usage().marks_percent];
    let begun = Record::PairBegun {
        pair: 1,
        lines: knitting::plan(),
    };
    let mut next = begun;
    // Until a checkpoint makes room: it keeps the open pair, so that settings alone never fill the ring.
    while journal.usage().marks_percent >= *marks.last().expect("a first") {
        marks.push(journal.usage().marks_percent);
        journal
            .append(&mut flash, Stamp(1), next)
            .expect("room, or a checkpoint");
        next = Record::Setting(Setting::Brightness(1));
    }
    marks.dedup();
    println!("{marks:?}, then {}", journal.usage().marks_percent);
    assert_eq!(marks, [0, 20, 40, 60]);
    let mut pairs = vec![journal.usage().pairs_percent];
    let table = condense(&Ledger::default());
    while journal.append(&mut flash, Stamp(1), table.clone()).is_ok() {
        pairs.push(journal.usage().pairs_percent);
    }
    pairs.dedup();
    assert_eq!(pairs, [0, 50, 100]);
    // Nothing is kept back of the ring of pairs.
    let blank = |sectors: core::ops::Range<usize>| {
        let ring = &flash.content()[sectors.start * SECTOR..sectors.end * SECTOR];
        ring.iter().rev().take_while(|&&byte| byte == 0xFF).count()
    };
    assert!(blank(3..6) < 32, "{} bytes", blank(3..6));
}

#[test]
fn what_stands_is_noted_again_before_its_sector_goes() {
    let mut years = Years::new(CAPACITY);
    for version in [0, 1] {
        for record in standing(version) {
            years.note(record).expect("room");
        }
    }
    let first_mark = 6 * SECTOR..7 * SECTOR;
    let before = years.flash.content()[first_mark.clone()].to_vec();
    let mut pair = 0;
    while years.flash.content()[first_mark.clone()] == before || pair < 12 {
        pair += 1;
        years.knit_a_pair(pair).expect("room");
    }
    let (_, found) = Found::open(&mut years.flash).expect("a flash that works");
    assert_eq!((found.gaps.len(), found.unreadable.len()), (0, 0));
    let there: Vec<&Record> = found.entries.iter().map(|entry| &entry.record).collect();
    for record in standing(1) {
        assert!(there.contains(&&record), "{record:?} is gone");
    }
    for record in standing(0) {
        assert!(!there.contains(&&record), "{record:?} is back");
    }
}

#[test]
fn a_start_reads_at_least_the_last_hundred_and_thirty_visits() {
    let mut flash = SimFlash::blank(CAPACITY);
    let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
    for number in 1..=900 {
        journal
            .append(&mut flash, Stamp(1), knitting::visit(number))
            .expect("visits always find room");
        if number % 17 == 0 {
            let (reopened, found) = Found::open(&mut flash).expect("a flash that works");
            journal = reopened;
            assert_eq!(found.gaps.len(), 0);
            let visits: Vec<&Record> = found.entries.iter().map(|entry| &entry.record).collect();
            let first = (number - 129).max(1);
            for visit in first..=number {
                assert!(visits.contains(&&knitting::visit(visit)), "visit {visit} of {number}");
            }
        }
    }
}

/// Each of a ring's records in turn has a bit that turned over: what is gone is told at its place, by the ring's name.
#[test]
fn a_damaged_record_is_told_at_its_place_and_noted_as_lost() {
    let story = tell(&only_settings(5), CAPACITY).expect("a story");
    let whole = Found::open(&mut story.copy()).expect("a flash that works").1;
    let written = 6 * SECTOR..7 * SECTOR;
    let end = story.content()[written.clone()]
        .iter()
        .rposition(|&byte| byte != 0xFF)
        .expect("records");
    let mut told = BTreeMap::new();
    for byte in 1..=end {
        let mut flash = story.copy();
        flash.flip(written.start + byte, 0);
        let (mut journal, found) = Found::open(&mut flash).expect("a flash that works");
        let lost: Vec<&Entry> = whole
            .entries
            .iter()
            .filter(|entry| !found.entries.contains(entry))
            .collect();
        let [lost] = lost[..] else {
            panic!("byte {byte}: {lost:?}")
        };
        let place = lost.sequence.0 as usize - 1;
        let is_last = place + 1 == whole.entries.len();
        if is_last {
            assert_eq!((found.gaps.len(), &found.unreadable[..]), (0, &[RingName::Marks][..]));
        } else {
            assert_eq!(found.gaps, [(place, RingName::Marks, 1)], "byte {byte}");
            assert_eq!(found.unreadable, []);
        }
        assert_eq!(journal.missing(), u16::from(is_last));
        *told.entry(place).or_insert(0) += 1;
        // The next record comes behind the note that one before it was lost.
        let noted = journal
            .append(&mut flash, Stamp(9), Record::Setting(Setting::Sound(true)))
            .expect("room");
        assert_eq!(noted.sequence, Sequence(6));
        let (_, again) = Found::open(&mut flash).expect("a flash that works");
        let lost = Record::Lost { count: 1 };
        assert_eq!(again.entries.iter().any(|entry| entry.record == lost), is_last);
    }
    assert_eq!(told.len(), 5, "{told:?}");
}

#[test]
fn humidity_is_kept_in_halves_of_a_percent() {
    for (percent, kept) in [(48.5, 97), (48.9, 97), (0.0, 0), (-3.0, 0), (100.0, 200), (120.0, 200)] {
        assert_eq!(Humidity::from_percent(percent), Humidity(kept));
    }
    assert_eq!(Humidity(97).percent(), 48.5);
}

/// A chip that is written four bytes at a time: records are filled up to whole words.
struct Words(SimFlash);

impl ErrorType for Words {
    type Error = FlashFault;
}

impl ReadNorFlash for Words {
    const READ_SIZE: usize = 1;

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), FlashFault> {
        self.0.read(offset, bytes)
    }

    fn capacity(&self) -> usize {
        self.0.capacity()
    }
}

impl NorFlash for Words {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = SECTOR;

    fn erase(&mut self, from: u32, to: u32) -> Result<(), FlashFault> {
        self.0.erase(from, to)
    }

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), FlashFault> {
        assert!(offset.is_multiple_of(4) && bytes.len().is_multiple_of(4));
        self.0.write(offset, bytes)
    }
}

#[test]
fn a_chip_with_longer_words_keeps_a_journal_as_well() {
    let mut flash = Words(SimFlash::blank(CAPACITY));
    for number in 0..40_u8 {
        let mut there = Vec::new();
        let mut journal = Journal::open(&mut flash, |replayed| match replayed {
            Replayed::Entry(entry) => there.push(entry.record.clone()),
            other => panic!("{other:?} in an unharmed journal"),
        })
        .expect("a chip that answers");
        let noted: Vec<Record> = (0..number).map(name).collect();
        assert_eq!(there, noted);
        journal.append(&mut flash, Stamp(1), name(number)).expect("room");
    }
}

/// Names of each length, so that each number of bytes is filled up.
fn name(number: u8) -> Record {
    Record::Named {
        what: Named::Yarn(YarnLetter::A),
        name: "aaaaaaaaaaa"[..usize::from(number % 11)].try_into().expect("short"),
    }
}

#[test]
fn a_ring_with_a_sector_gone_still_goes_round() {
    let flash = tell(&only_settings(1_100), CAPACITY).expect("a story");
    for sector in 6..12 {
        let mut content = flash.content().to_vec();
        content[sector * SECTOR..][..SECTOR].fill(0x5A);
        let mut harmed = SimFlash::with_content(content);
        let (mut journal, _) = Found::open(&mut harmed).expect("a flash that works");
        for number in 0..1_100 {
            let record = Record::Setting(Setting::Brightness(number as u8));
            let noted = journal.append(&mut harmed, Stamp(number), record);
            assert!(noted.is_ok(), "sector {sector}, record {number}: {noted:?}");
        }
    }
}

/// Between two records a scale has time, and while one is noted the knitter waits: what was tidied before it erases nothing.
#[test]
fn whoever_tidies_does_not_wait_for_a_sector_to_be_erased() {
    let mut flash = SimFlash::blank(CAPACITY);
    let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
    for number in 0..2_000 {
        journal.tidy(&mut flash).expect("a flash that works");
        let before = flash.counts().erases;
        for record in [
            Record::Setting(Setting::Brightness(number as u8)),
            knitting::visit(number),
        ] {
            journal.append(&mut flash, Stamp(1), record).expect("room");
        }
        assert_eq!(flash.counts().erases, before, "record {number}");
    }
    assert!(flash.counts().erases > 10, "the rings have not come round");
}

/// However many pairs there are, a start reads the marks of the last one or two sectors' worth and not all: the knitter waits for it.
#[test]
fn a_start_reads_few_marks_however_many_pairs_there_are() {
    let mut years = Years::new(2 * CAPACITY);
    let mut most = 0;
    for pair in 1..=60 {
        years.knit_a_pair(pair).expect("room");
        let (_, found) = Found::open(&mut years.flash).expect("a flash that works");
        most = most.max(found.of(RingName::Marks).count());
    }
    assert!((60..260).contains(&most), "{most}");
}
