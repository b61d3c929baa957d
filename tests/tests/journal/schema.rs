//! The journal's format holds for ever: an image of each schema, written once and kept in `tests/journals`, still reads the same,
//! record for record. Every kind of record is in them, and every variant of whatever a record can hold.
//!
//! An image is written only where there is none: `BLESS_JOURNAL=1 cargo test -p yarn-scale-tests --test journal schema`.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use yarn_scale_core::journal::{Journal, Record, Replayed, SCHEMA};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::sock::{SectionKind, YarnLetter};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::Found;
use yarn_scale_tests::events::{EVENT_KINDS, event_kind};
use yarn_scale_tests::every_record::{entries, entries_of_schema_2};
use yarn_scale_tests::records::{KINDS, kind};

const CAPACITY: usize = 48 << 10;

fn file(schema: u8) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("journals/schema_{schema}.hex"))
}

fn flash_of(schema: u8) -> SimFlash {
    let text = std::fs::read_to_string(file(schema)).expect("the image");
    SimFlash::with_content(read(&text))
}

/// An image as text: what is not blank, 32 bytes a line behind their place.
fn written(image: &[u8]) -> String {
    let mut text = String::new();
    for (line, bytes) in image.chunks(32).enumerate() {
        if bytes.iter().any(|&byte| byte != 0xFF) {
            let hex: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
            writeln!(text, "{:05x} {hex}", 32 * line).expect("a string takes all");
        }
    }
    text
}

fn read(text: &str) -> Vec<u8> {
    let mut image = vec![0xFF; CAPACITY];
    for line in text.lines() {
        let (place, hex) = line.split_once(' ').expect("a place and bytes");
        let place = usize::from_str_radix(place, 16).expect("a place");
        for (at, byte) in (place..).zip(hex.as_bytes().chunks(2)) {
            let byte = core::str::from_utf8(byte).expect("hex");
            image[at] = u8::from_str_radix(byte, 16).expect("hex");
        }
    }
    image
}

/// What this program writes today.
fn image() -> Vec<u8> {
    let mut flash = SimFlash::blank(CAPACITY);
    let (mut journal, _) = Found::open(&mut flash).expect("a flash that works");
    for entry in entries_of_schema_2() {
        let noted = journal
            .append(&mut flash, entry.at, entry.record.clone())
            .expect("room");
        assert_eq!(noted, entry);
    }
    flash.content().to_vec()
}

#[test]
fn images_of_all_schemas_read_the_same_for_ever() {
    if std::env::var_os("BLESS_JOURNAL").is_some() && !file(SCHEMA).exists() {
        std::fs::write(file(SCHEMA), written(&image())).expect("a file");
    }
    for (schema, entries) in [(1, entries()), (2, entries_of_schema_2())] {
        let (_, found) = Found::open(&mut flash_of(schema)).expect("a flash that works");
        assert_eq!(found.entries, entries, "schema {schema}");
        assert_eq!((found.gaps.len(), found.unreadable.len()), (0, 0), "schema {schema}");
    }
}

#[test]
fn as_long_as_the_schema_is_2_the_same_is_written() {
    assert_eq!(SCHEMA, 2, "keep the images and add one of the new schema");
    assert!(flash_of(2).content() == image(), "other bytes for the same records");
}

#[test]
fn every_kind_of_record_is_in_the_images() {
    let entries = entries_of_schema_2();
    let kinds: BTreeSet<usize> = entries.iter().map(|entry| kind(&entry.record)).collect();
    assert_eq!(kinds, (1..KINDS).collect());
    let events = entries.iter().filter_map(|entry| match &entry.record {
        Record::OfPair { event, .. } => Some(event_kind(event)),
        _ => None,
    });
    assert_eq!(events.collect::<BTreeSet<usize>>(), (0..EVENT_KINDS).collect());
}

/// Sections of the running pair as they are in the journal's image: kind, yarn, milligrams, in doubt.
fn table(schema: u8) -> (u16, Vec<(SectionKind, YarnLetter, i32, bool)>) {
    let mut ledger = Ledger::default();
    Journal::open(&mut flash_of(schema), |replayed| {
        if let Replayed::Entry(entry) = replayed {
            ledger.apply(entry).expect("in order");
        }
    })
    .expect("a flash that works");
    let Record::Condensed { pair, sections } = condense(&ledger) else {
        unreachable!("condensing gives a condensed pair");
    };
    let rows = sections.iter().map(|section| {
        let used = section.used.value.0;
        (section.line.kind, section.line.yarn, used, section.doubtful)
    });
    let mut rows: Vec<_> = rows.collect();
    rows.sort();
    (pair, rows)
}

/// What the records mean, by hand: a late mark at 101 g before the mark at 99.01 g, and so on.
#[test]
fn schema_1_gives_the_same_table_for_ever() {
    let expected = [
        // Of A: 103.2 g at the weigh-in, 101 g at the late mark, 99.01 g at the amended mark that it pushed on to the heel.
        (SectionKind::Leg, YarnLetter::D, 2_200, false),
        (SectionKind::Heel, YarnLetter::E, 1_990, true),
        // Of B: 22.1 g, then 18 g; 15 g at the late mark, after which the unplanned use was taken back; 13 g in the same stay.
        (SectionKind::Cuff, YarnLetter::C, 4_100, false),
        (SectionKind::Heel, YarnLetter::F, 3_000, true),
        (SectionKind::Gusset, YarnLetter::H, 2_000, true),
    ];
    let mut expected = expected.to_vec();
    expected.sort();
    assert_eq!(table(1), (1, expected));
}

/// By hand: of A 100 g at the weigh-in, 95 g after the first section; the mark at 80 g was taken back, so that the next section, amended to
/// 72.01 g, takes all from 95 g. Of B 20 g; its mark at 12 g was pushed on by the late one at 15 g. Of C, carried over, nothing.
#[test]
fn schema_2_gives_the_same_table_for_ever() {
    let mut expected = vec![
        (SectionKind::Cuff, YarnLetter::A, 5_000, false),
        (SectionKind::Leg, YarnLetter::D, 22_990, false),
        (SectionKind::Heel, YarnLetter::E, 5_000, false),
        (SectionKind::Heel, YarnLetter::G, 3_000, false),
    ];
    expected.sort();
    assert_eq!(table(2), (2, expected));
}
