//! The journal's format holds for ever: an image of schema 1, written once and kept in `tests/journals`, still reads the same,
//! record for record. Every kind of record is in it, and every variant of whatever a record can hold.
//!
//! The image is written only where there is none: `BLESS_JOURNAL=1 cargo test -p yarn-scale-tests --test journal_schema`.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use yarn_scale_core::journal::{
    BowlNumber, Entry, Fibre, Humidity, Journal, Label, Language, Named, Record, Replayed, SCHEMA, SectionUse,
    Sequence, Setting, StartCause, Weight, condense,
};
use yarn_scale_core::ledger::{Ledger, Line, YarnLetter};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::section::{Construction, HeelConstruction, Ribbing, SectionKind, Sock, ToeConstruction};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};
use yarn_scale_core::weighing::{Calibration, Unit};
use yarn_scale_sim::flash::SimFlash;
use yarn_scale_tests::durability::Found;
use yarn_scale_tests::records::kind;

const CAPACITY: usize = 48 << 10;

fn measured(mg: i32, u: f32) -> Measured {
    Measured {
        value: Milligrams(mg),
        u,
    }
}

fn weight(mg: i32) -> Weight {
    Weight {
        net: measured(mg, 21.5),
        bowl: Some(BowlNumber(3)),
        air: Some(Humidity(97)),
    }
}

/// A line for each construction, and in them each kind of section, each sock, each yarn.
fn lines() -> Vec<Line> {
    use {Construction as C, HeelConstruction as H, Ribbing as R, SectionKind as K, ToeConstruction as T};
    let shapes = [
        (K::Cuff, C::Ribbed(R::OneByOne)),
        (K::Cuff, C::Ribbed(R::TwoByTwo)),
        (K::Cuff, C::Ribbed(R::Twisted)),
        (K::Leg, C::Plain),
        (K::Heel, C::Heel(H::FlapAndGusset)),
        (K::Heel, C::Heel(H::ShortRow)),
        (K::Heel, C::Heel(H::Afterthought)),
        (K::Gusset, C::Plain),
        (K::Foot, C::Plain),
        (K::Toe, C::Toe(T::Wedge)),
        (K::Toe, C::Toe(T::Rounded)),
        (K::Toe, C::Toe(T::Asymmetric)),
    ];
    let yarns = YarnLetter::ALL.into_iter().cycle();
    let socks = [Sock::First, Sock::Second].into_iter().cycle();
    let line = |(((kind, construction), yarn), sock)| Line {
        kind,
        sock,
        yarn,
        construction,
        stitches: 64,
    };
    shapes.into_iter().zip(yarns).zip(socks).map(line).collect()
}

fn marks() -> Vec<Record> {
    let [a, b] = [YarnLetter::A, YarnLetter::B];
    let mut records = vec![Record::Calibrated(
        Calibration::straight(FineCounts(-9_001), 812.5).expect("a sensible span"),
    )];
    records.push(Record::Bowl {
        number: BowlNumber(3),
        mass: measured(83_400, 12.25),
    });
    records.extend(
        [
            Setting::Unit(Unit::Ounce),
            Setting::Unit(Unit::Gram),
            Setting::Language(Language::German),
            Setting::Language(Language::English),
            Setting::Brightness(4),
            Setting::SleepMinutes(20),
            Setting::Sound(false),
            Setting::Sound(true),
            Setting::BowlInUse(None),
            Setting::BowlInUse(Some(BowlNumber(3))),
        ]
        .map(Record::Setting),
    );
    let fibres = [
        Fibre::WoolPolyamide,
        Fibre::Wool,
        Fibre::Cotton,
        Fibre::Silk,
        Fibre::Synthetic,
    ];
    records.extend(
        YarnLetter::ALL
            .into_iter()
            .zip(fibres)
            .map(|(letter, fibre)| Record::Yarn {
                letter,
                label: Label {
                    metres_per_100_g: 420,
                    fibre,
                },
            }),
    );
    records.extend([
        Record::ClockSet { unix: 1_700_000_000 },
        Record::Control {
            weight: measured(10_020, 9.5),
        },
        Record::PairBegun {
            pair: 1,
            lines: lines().into_iter().collect(),
        },
        Record::LineChanged {
            index: 1,
            line: lines()[2],
        },
        Record::WeighIn {
            yarn: a,
            weight: weight(103_200),
        },
        Record::WeighIn {
            yarn: b,
            weight: weight(22_100),
        },
        Record::Mark {
            line: 0,
            yarn: a,
            weight: weight(99_000),
        },
    ]);
    let mark = Sequence(records.len() as u32);
    records.extend([
        Record::Amended {
            of: mark,
            weight: weight(99_010),
        },
        Record::Mark {
            line: 1,
            yarn: b,
            weight: weight(18_000),
        },
        Record::LateMark {
            line: 3,
            yarn: a,
            weight: weight(101_000),
            visited: Stamp(77),
            before: Some((mark, 4)),
        },
        Record::LateMark {
            line: 5,
            yarn: b,
            weight: weight(15_000),
            visited: Stamp(78),
            before: None,
        },
        Record::Skipped { line: 6 },
        Record::Unplanned {
            yarn: b,
            weight: weight(14_000),
        },
        Record::Undone {
            of: Sequence(mark.0 + 6),
        },
        Record::Named {
            what: Named::Yarn(a),
            name: "Ackerrain".try_into().expect("short"),
        },
        Record::Lost { count: 2 },
        Record::PairClosed { pair: 1 },
        Record::Checkpoint {
            from: Sequence(1),
            pair: 1,
            alone: true,
        },
    ]);
    records
}

fn pairs() -> Vec<Record> {
    let used = |line: usize, kind: SectionKind, mg: i32, u: f32| SectionUse {
        line: Line { kind, ..lines()[line] },
        used: measured(mg, u),
        doubtful: line == 5,
    };
    let sections = [
        used(3, SectionKind::Leg, 2_200, 30.5),
        used(5, SectionKind::Heel, 3_000, 31.5),
    ];
    vec![
        Record::Condensed {
            pair: 1,
            sections: sections.into_iter().collect(),
        },
        Record::Named {
            what: Named::Pair(1),
            name: "für Sonntag".try_into().expect("short"),
        },
    ]
}

fn visits() -> Vec<Record> {
    let causes = [
        StartCause::PowerOn,
        StartCause::Watchdog,
        StartCause::Panic(0xBEEF),
        StartCause::Restored,
    ];
    let mut records: Vec<Record> = causes.map(Record::Started).into();
    records.push(Record::Visit {
        gross: measured(186_600, 14.75),
        bowl: Some(BowlNumber(3)),
        zero: FineCounts(-9_017),
    });
    records
}

/// All records with their numbers and times, ring by ring, as a start finds them.
fn entries() -> Vec<Entry> {
    let numbered = |records: Vec<Record>| {
        (1..).zip(records).map(|(number, record)| Entry {
            sequence: Sequence(number),
            at: Stamp(60 * number),
            record,
        })
    };
    let mut entries: Vec<Entry> = numbered(pairs()).collect();
    entries.extend(numbered(marks()));
    entries.extend(numbered(visits()));
    entries
}

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
    assert_eq!(kinds, (1..=22).collect());
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
        // Of B: 22.1 g, then 18 g; 15 g at the late mark, after which the unplanned use was taken back.
        (SectionKind::Cuff, YarnLetter::C, 4_100, false),
        (SectionKind::Heel, YarnLetter::F, 3_000, true),
    ];
    let mut sorted = table.clone();
    sorted.sort();
    let mut wanted = expected.to_vec();
    wanted.sort();
    assert_eq!(sorted, wanted);
}
