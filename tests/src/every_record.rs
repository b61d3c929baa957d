//! One record of each kind, and in them every variant of whatever a record can hold: what the images of the journal's
//! schemas are made of. Changing one changes what a released schema is checked against: add, never change.

use yarn_scale_core::journal::{
    BenchCheck, Entry, Gauge, Language, Named, PairEvent, Record, Sequence, Setting, StartCause,
};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    BowlNumber, Construction, Fibre, HeelConstruction, Humidity, Label, Line, Ribbing, SectionKind, SectionUse, Sock,
    ToeConstruction, Weight, YarnLetter,
};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};
use yarn_scale_core::weighing::{Calibration, Unit};

use crate::records::SUPPLIES;

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
        Record::SharedZeroMark {
            line: 7,
            yarn: b,
            weight: weight(13_000),
            used_u: 9.25,
        },
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

/// What schema 2 added: a second pair, all that can happen to it, the settings of parts, the check on the bench.
fn marks_of_schema_2() -> Vec<Record> {
    let [a, b, c] = [YarnLetter::A, YarnLetter::B, YarnLetter::C];
    let mut records = marks();
    let settings = [
        Setting::CellCapacity(500),
        Setting::PanelOffset(2),
        Setting::LanguageAsked(false),
        Setting::LanguageAsked(true),
    ];
    records.extend(settings.map(Record::Setting));
    records.extend(SUPPLIES.map(|kind| Record::Setting(Setting::Supply(kind))));
    records.extend(
        // The one that came later stands behind all else.
        BenchCheck::ALL[..12]
            .iter()
            .zip([None, Some(true), Some(false)].into_iter().cycle())
            .map(|(&check, passed)| Record::Bench {
                check,
                value: -1_234,
                passed,
            }),
    );
    records.push(Record::PairBegun {
        pair: 2,
        lines: lines().into_iter().collect(),
    });
    let begun = records.len() as u32;
    let number = |event: u32| Sequence(begun + event);
    let mark = |line, yarn, mg, used_u| PairEvent::Mark {
        line,
        yarn,
        weight: weight(mg),
        used_u,
    };
    let weigh_in = |yarn, mg| PairEvent::WeighIn {
        yarn,
        weight: weight(mg),
    };
    let events = [
        weigh_in(a, 100_000),                        // 1
        weigh_in(b, 20_000),                         // 2
        mark(0, a, 95_000, None),                    // 3
        mark(1, a, 80_000, Some(9.25)),              // 4
        PairEvent::Moved { of: number(4), line: 2 }, // 5
        mark(3, a, 72_000, None),                    // 6
        PairEvent::TakenBack { of: number(4) },      // 7
        PairEvent::Amended {
            of: number(6),
            weight: weight(72_010),
        }, // 8
        PairEvent::Unplanned {
            yarn: b,
            weight: weight(19_000),
        }, // 9
        PairEvent::Undone { of: number(9) },         // 10
        PairEvent::Skipped { line: 5 },              // 11
        mark(4, b, 12_000, None),                    // 12
        PairEvent::LateMark {
            line: 4,
            yarn: b,
            weight: weight(15_000),
            visited: Stamp(77),
            before: Some((number(12), 6)),
        }, // 13
        PairEvent::Carried {
            yarn: c,
            from: 1,
            was: YarnLetter::H,
            weight: weight(13_000),
        }, // 14
        PairEvent::LineChanged {
            index: 1,
            line: lines()[2],
        }, // 15
        PairEvent::Label {
            yarn: c,
            label: Label {
                metres_per_100_g: 400,
                fibre: Fibre::Wool,
            },
        },
        PairEvent::YarnNamed {
            yarn: c,
            name: "Schlehe".try_into().expect("short"),
        },
        PairEvent::Gauge(Gauge {
            stitches: 64,
            stitches_per_10_cm: 60,
            rounds_per_10_cm: 84,
        }),
        PairEvent::Rounds {
            line: 7,
            yarn: c,
            weight: weight(12_500),
            rounds: 10,
        },
    ];
    records.extend(events.map(|event| Record::OfPair { pair: 2, event }));
    // Of another pair, and noted once more: neither changes the second pair.
    records.push(Record::OfPair {
        pair: 1,
        event: mark(8, a, 1_000, None),
    });
    records.push(Record::Kept {
        pair: 2,
        number: number(3),
        event: mark(0, a, 95_000, None),
    });
    records.push(Record::Bench {
        check: BenchCheck::Empty,
        value: -812_345,
        passed: Some(false),
    });
    records.push(Record::PairClosed { pair: 2 });
    records.push(Record::OfPair {
        pair: 2,
        event: PairEvent::Reopened,
    });
    records.extend([Setting::PairInHand(2), Setting::KeptFrom(Sequence(1))].map(Record::Setting));
    records
}

/// All records with their numbers and times, ring by ring, as a start finds them.
#[must_use]
pub fn entries() -> Vec<Entry> {
    entries_with(marks())
}

/// The same of schema 2.
#[must_use]
pub fn entries_of_schema_2() -> Vec<Entry> {
    entries_with(marks_of_schema_2())
}

fn entries_with(marks: Vec<Record>) -> Vec<Entry> {
    let numbered = |records: Vec<Record>| {
        (1..).zip(records).map(|(number, record)| Entry {
            sequence: Sequence(number),
            at: Stamp(60 * number),
            record,
        })
    };
    let mut entries: Vec<Entry> = numbered(pairs()).collect();
    entries.extend(numbered(marks));
    entries.extend(numbered(visits()));
    entries
}
