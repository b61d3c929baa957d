//! The journal's format holds for ever: an image of schema 1, written once and kept in `tests/journals`, still reads the same,
//! record for record. Every kind of record is in it, and every variant of whatever a record can hold.
//!
//! The image is written only where there is none: `BLESS_JOURNAL=1 cargo test -p yarn-scale-tests --test journal schema`.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use yarn_scale_core::journal::{Journal, Record, Replayed, SCHEMA};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::sock::{SectionKind, YarnLetter};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::durability::Found;
use yarn_scale_tests::every_record::entries;
use yarn_scale_tests::records::{KINDS, kind};

const CAPACITY: usize = 48 << 10;

fn file() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("journals/schema_1.hex")
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
    for entry in entries() {
        let noted = journal
            .append(&mut flash, entry.at, entry.record.clone())
            .expect("room");
        assert_eq!(noted, entry);
    }
    flash.content().to_vec()
}

#[test]
fn an_image_of_schema_1_reads_the_same_for_ever() {
    if std::env::var_os("BLESS_JOURNAL").is_some() && !file().exists() {
        std::fs::write(file(), written(&image())).expect("a file");
    }
    let text = std::fs::read_to_string(file()).expect("the image");
    let mut flash = SimFlash::with_content(read(&text));
    let (_, found) = Found::open(&mut flash).expect("a flash that works");
    assert_eq!(found.entries, entries());
    assert_eq!((found.gaps.len(), found.unreadable.len()), (0, 0));
}

#[test]
fn as_long_as_the_schema_is_1_the_same_is_written() {
    let text = std::fs::read_to_string(file()).expect("the image");
    assert_eq!(SCHEMA, 1, "keep the image of schema 1 and add one of the new schema");
    assert!(read(&text) == image(), "other bytes for the same records");
}

#[test]
fn every_kind_of_record_is_in_the_image() {
    let kinds: std::collections::BTreeSet<usize> = entries().iter().map(|entry| kind(&entry.record)).collect();
    assert_eq!(kinds, (1..KINDS).collect());
}

/// What the records mean, by hand: a late mark at 101 g before the mark at 99.01 g, and so on.
#[test]
fn the_records_give_the_same_table_for_ever() {
    let text = std::fs::read_to_string(file()).expect("the image");
    let mut flash = SimFlash::with_content(read(&text));
    let mut ledger = Ledger::default();
    Journal::open(&mut flash, |replayed| {
        if let Replayed::Entry(entry) = replayed {
            ledger.apply(entry).expect("in order");
        }
    })
    .expect("a flash that works");
    let Record::Condensed { pair, sections } = condense(&ledger) else {
        unreachable!("condensing gives a condensed pair");
    };
    let table: Vec<(SectionKind, YarnLetter, i32, bool)> = sections
        .iter()
        .map(|section| {
            (
                section.line.kind,
                section.line.yarn,
                section.used.value.0,
                section.doubtful,
            )
        })
        .collect();
    assert_eq!(pair, 1);
    let expected = [
        // Of A: 103.2 g at the weigh-in, 101 g at the late mark, 99.01 g at the amended mark that it pushed on to the heel.
        (SectionKind::Leg, YarnLetter::D, 2_200, false),
        (SectionKind::Heel, YarnLetter::E, 1_990, true),
        // Of B: 22.1 g, then 18 g; 15 g at the late mark, after which the unplanned use was taken back; 13 g in the same stay.
        (SectionKind::Cuff, YarnLetter::C, 4_100, false),
        (SectionKind::Heel, YarnLetter::F, 3_000, true),
        (SectionKind::Gusset, YarnLetter::H, 2_000, true),
    ];
    let mut sorted = table.clone();
    sorted.sort();
    let mut wanted = expected.to_vec();
    wanted.sort();
    assert_eq!(sorted, wanted);
}
