//! One record of each kind, and in them every variant of whatever a record can hold: what the images of the journal's
//! schemas are made of. Changing one changes what a released schema is checked against: add, never change.

use yarn_scale_core::journal::{Entry, Language, Named, Record, Sequence, Setting, StartCause};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    BowlNumber, Construction, Fibre, HeelConstruction, Humidity, Label, Line, Ribbing, SectionKind, SectionUse, Sock,
    ToeConstruction, Weight, YarnLetter,
};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};
use yarn_scale_core::weighing::{Calibration, Unit};

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
        Record::StayMark {
            line: 7,
            yarn: b,
            weight: weight(13_000),
            went_u: 9.25,
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

/// All records with their numbers and times, ring by ring, as a start finds them.
#[must_use]
pub fn entries() -> Vec<Entry> {
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
