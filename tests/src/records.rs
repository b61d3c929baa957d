//! Any record at all, for property tests.

use proptest::collection::vec;
use proptest::prelude::*;
use yarn_scale_core::journal::{BenchCheck, Entry, Language, Named, Record, Sequence, Setting, StartCause, SupplyKind};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{
    BowlNumber, Construction, Fibre, HeelConstruction, Humidity, Label, Line, MAX_LINES, Ribbing, SectionKind,
    SectionUse, Sock, ToeConstruction, Weight, YarnLetter,
};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};
use yarn_scale_core::weighing::{Calibration, Unit};

use crate::events::any_event;

/// Any entry that can be written.
pub fn any_entry() -> impl Strategy<Value = Entry> {
    (1..=u32::MAX, any::<u32>(), any_record()).prop_map(|(sequence, at, record)| Entry {
        sequence: Sequence(sequence),
        at: Stamp(at),
        record,
    })
}

/// Any record that can be written, each kind as likely as the others.
pub fn any_record() -> impl Strategy<Value = Record> {
    (1..KINDS).prop_flat_map(record_of_kind)
}

/// A place for each kind of record; a new kind does not compile until it has one, and [`record_of_kind`] makes it.
#[must_use]
pub const fn kind(record: &Record) -> usize {
    match record {
        Record::Reserved => 0,
        Record::Started(_) => 1,
        Record::Calibrated(_) => 2,
        Record::Bowl { .. } => 3,
        Record::PairBegun { .. } => 4,
        Record::LineChanged { .. } => 5,
        Record::WeighIn { .. } => 6,
        Record::Mark { .. } => 7,
        Record::Unplanned { .. } => 8,
        Record::Amended { .. } => 9,
        Record::Undone { .. } => 10,
        Record::Skipped { .. } => 11,
        Record::LateMark { .. } => 12,
        Record::Visit { .. } => 13,
        Record::PairClosed { .. } => 14,
        Record::Setting(_) => 15,
        Record::Yarn { .. } => 16,
        Record::ClockSet { .. } => 17,
        Record::Named { .. } => 18,
        Record::Lost { .. } => 19,
        Record::Condensed { .. } => 20,
        Record::Checkpoint { .. } => 21,
        Record::Control { .. } => 22,
        Record::SharedZeroMark { .. } => 23,
        Record::OfPair { .. } => 24,
        Record::Kept { .. } => 25,
        Record::Bench { .. } => 26,
    }
}

/// How many kinds there are, the reserved one included.
pub const KINDS: usize = 27;

/// Any record of a kind.
pub fn record_of_kind(kind: usize) -> BoxedStrategy<Record> {
    let measured = any_measured;
    let bowl = || proptest::option::of(any::<u8>().prop_map(BowlNumber));
    let sequence = || any::<u32>().prop_map(Sequence);
    let weighed = || (any::<u8>(), any_letter(), any_weight());
    match kind {
        1 => any_cause().prop_map(Record::Started).boxed(),
        2 => any_calibration().prop_map(Record::Calibrated).boxed(),
        3 => (any::<u8>(), measured())
            .prop_map(|(number, mass)| Record::Bowl {
                number: BowlNumber(number),
                mass,
            })
            .boxed(),
        4 => (any::<u16>(), vec(any_line(), 0..=MAX_LINES))
            .prop_map(|(pair, lines)| Record::PairBegun {
                pair,
                lines: lines.into_iter().collect(),
            })
            .boxed(),
        5 => (any::<u8>(), any_line())
            .prop_map(|(index, line)| Record::LineChanged { index, line })
            .boxed(),
        6 => weighed()
            .prop_map(|(_, yarn, weight)| Record::WeighIn { yarn, weight })
            .boxed(),
        7 => weighed()
            .prop_map(|(line, yarn, weight)| Record::Mark { line, yarn, weight })
            .boxed(),
        8 => weighed()
            .prop_map(|(_, yarn, weight)| Record::Unplanned { yarn, weight })
            .boxed(),
        9 => (sequence(), any_weight())
            .prop_map(|(of, weight)| Record::Amended { of, weight })
            .boxed(),
        10 => sequence().prop_map(|of| Record::Undone { of }).boxed(),
        11 => any::<u8>().prop_map(|line| Record::Skipped { line }).boxed(),
        12 => (weighed(), any::<u32>(), proptest::option::of((sequence(), any::<u8>())))
            .prop_map(|((line, yarn, weight), visited, before)| Record::LateMark {
                line,
                yarn,
                weight,
                visited: Stamp(visited),
                before,
            })
            .boxed(),
        13 => (measured(), bowl(), any::<i32>())
            .prop_map(|(gross, bowl, zero)| Record::Visit {
                gross,
                bowl,
                zero: FineCounts(zero),
            })
            .boxed(),
        14 => any::<u16>().prop_map(|pair| Record::PairClosed { pair }).boxed(),
        15 => any_setting().prop_map(Record::Setting).boxed(),
        16 => (any_letter(), any_label())
            .prop_map(|(letter, label)| Record::Yarn { letter, label })
            .boxed(),
        17 => any::<u64>().prop_map(|unix| Record::ClockSet { unix }).boxed(),
        18 => (any_named(), "\\PC{0,6}")
            .prop_map(|(what, name)| Record::Named {
                what,
                name: name.as_str().try_into().unwrap_or_default(),
            })
            .boxed(),
        19 => any::<u16>().prop_map(|count| Record::Lost { count }).boxed(),
        20 => (any::<u16>(), vec(any_use(), 0..=MAX_LINES))
            .prop_map(|(pair, sections)| Record::Condensed {
                pair,
                sections: sections.into_iter().collect(),
            })
            .boxed(),
        21 => (sequence(), any::<u16>(), any::<bool>())
            .prop_map(|(from, pair, alone)| Record::Checkpoint { from, pair, alone })
            .boxed(),
        22 => measured().prop_map(|weight| Record::Control { weight }).boxed(),
        23 => (weighed(), 0.0_f32..1e4)
            .prop_map(|((line, yarn, weight), used_u)| Record::SharedZeroMark {
                line,
                yarn,
                weight,
                used_u,
            })
            .boxed(),
        24 => (any::<u16>(), any_event())
            .prop_map(|(pair, event)| Record::OfPair { pair, event })
            .boxed(),
        25 => (any::<u16>(), sequence(), any_event())
            .prop_map(|(pair, number, event)| Record::Kept { pair, number, event })
            .boxed(),
        26 => (
            proptest::sample::select(BenchCheck::ALL.to_vec()),
            any::<i32>(),
            any::<Option<bool>>(),
        )
            .prop_map(|(check, value, passed)| Record::Bench { check, value, passed })
            .boxed(),
        _ => Just(Record::Reserved).boxed(),
    }
}

/// Any mass and uncertainty, extremes included.
pub fn any_measured() -> impl Strategy<Value = Measured> {
    let mg = prop_oneof![any::<i32>(), -1_000_000..1_000_000, Just(i32::MIN), Just(i32::MAX)];
    let u = prop_oneof![0.0_f32..1e4, Just(f32::MAX), Just(0.0)];
    (mg, u).prop_map(|(mg, u)| Measured {
        value: Milligrams(mg),
        u,
    })
}

pub(crate) fn any_weight() -> impl Strategy<Value = Weight> {
    let bowl = proptest::option::of(any::<u8>().prop_map(BowlNumber));
    let air = proptest::option::of((0..=200_u8).prop_map(Humidity));
    (any_measured(), bowl, air).prop_map(|(net, bowl, air)| Weight { net, bowl, air })
}

/// Any line of a plan.
pub fn any_line() -> impl Strategy<Value = Line> {
    let kind = proptest::sample::select(SectionKind::ALL.to_vec());
    let sock = proptest::sample::select(vec![Sock::First, Sock::Second]);
    (kind, sock, any_letter(), any_construction(), any::<u8>()).prop_map(
        |(kind, sock, yarn, construction, stitches)| Line {
            kind,
            sock,
            yarn,
            construction,
            stitches,
        },
    )
}

/// Any yarn letter.
pub fn any_letter() -> impl Strategy<Value = YarnLetter> {
    proptest::sample::select(YarnLetter::ALL.to_vec())
}

fn any_construction() -> impl Strategy<Value = Construction> {
    use {Construction as C, HeelConstruction as H, Ribbing as R, ToeConstruction as T};
    proptest::sample::select(vec![
        C::Plain,
        C::Ribbed(R::OneByOne),
        C::Ribbed(R::TwoByTwo),
        C::Ribbed(R::Twisted),
        C::Heel(H::FlapAndGusset),
        C::Heel(H::ShortRow),
        C::Heel(H::Afterthought),
        C::Toe(T::Wedge),
        C::Toe(T::Rounded),
        C::Toe(T::Asymmetric),
    ])
}

fn any_use() -> impl Strategy<Value = SectionUse> {
    (any_line(), any_measured(), any::<bool>()).prop_map(|(line, used, doubtful)| SectionUse { line, used, doubtful })
}

fn any_calibration() -> impl Strategy<Value = Calibration> {
    let size = 10.0_f32..100_000.0;
    (any::<i32>(), size, any::<bool>()).prop_map(|(zero, size, turned)| {
        Calibration::straight(FineCounts(zero), if turned { -size } else { size }).expect("within the range allowed")
    })
}

fn any_setting() -> impl Strategy<Value = Setting> {
    let bowl = proptest::option::of(any::<u8>().prop_map(BowlNumber));
    prop_oneof![
        proptest::sample::select(vec![Unit::Gram, Unit::Ounce]).prop_map(Setting::Unit),
        proptest::sample::select(vec![Language::English, Language::German]).prop_map(Setting::Language),
        any::<u8>().prop_map(Setting::Brightness),
        any::<u8>().prop_map(Setting::SleepMinutes),
        any::<bool>().prop_map(Setting::Sound),
        bowl.prop_map(Setting::BowlInUse),
        any::<u16>().prop_map(Setting::CellCapacity),
        any::<u8>().prop_map(Setting::PanelOffset),
        proptest::sample::select(SUPPLIES.to_vec()).prop_map(Setting::Supply),
        any::<bool>().prop_map(Setting::LanguageAsked),
        any::<u16>().prop_map(Setting::PairInHand),
        any::<u32>().prop_map(|from| Setting::KeptFrom(Sequence(from))),
    ]
}

/// Every kind of supply.
pub const SUPPLIES: [SupplyKind; 4] = [
    SupplyKind::Alkaline,
    SupplyKind::NickelMetalHydride,
    SupplyKind::Lithium,
    SupplyKind::Usb,
];

pub(crate) fn any_label() -> impl Strategy<Value = Label> {
    let fibres = vec![
        Fibre::WoolPolyamide,
        Fibre::Wool,
        Fibre::Cotton,
        Fibre::Silk,
        Fibre::Synthetic,
    ];
    (any::<u16>(), proptest::sample::select(fibres)).prop_map(|(metres_per_100_g, fibre)| Label {
        metres_per_100_g,
        fibre,
    })
}

fn any_named() -> impl Strategy<Value = Named> {
    prop_oneof![any::<u16>().prop_map(Named::Pair), any_letter().prop_map(Named::Yarn)]
}

fn any_cause() -> impl Strategy<Value = StartCause> {
    prop_oneof![
        Just(StartCause::PowerOn),
        Just(StartCause::Watchdog),
        any::<u32>().prop_map(StartCause::Panic)
    ]
}
