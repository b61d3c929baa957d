//! Invented stories: what is noted, one step after the other. Numbers of records that later ones speak of are filled in as
//! the story is told, since the journal's own notes take numbers too.

use yarn_scale_core::journal::{Language, Named, Record, Sequence, Setting, StartCause};
use yarn_scale_core::sock::{BowlNumber, Fibre, Label, YarnLetter};
use yarn_scale_core::units::{FineCounts, Stamp};
use yarn_scale_core::weighing::{Calibration, Unit};

use crate::knitting;

/// One step of a story.
#[allow(clippy::large_enum_variant, reason = "a story is short")]
#[derive(Clone, Debug)]
pub enum Step {
    /// Something is noted.
    Note(Record),
    /// The record noted so many steps before is amended by a few milligrams.
    Amend(usize),
    /// The record noted so many steps before is taken back.
    Undo(usize),
    /// The ledger's pair is noted in short.
    Condense,
    /// The oldest pairs in short are let go, as many as make room, if there is need.
    MakeRoom,
    /// Idle: sectors are made blank ahead of time.
    Tidy,
    /// Power goes off and on between two operations.
    Restart,
}

/// A whole pair with everything that can be noted: weigh-ins, marks, amendments, undo, skip, a forgotten mark, bowls,
/// settings, calibration, a changed plan, labels, names; then the next pair.
#[must_use]
pub fn a_pair_with_everything() -> Vec<Step> {
    use Step::{Amend, Condense, Note, Restart, Tidy, Undo};
    let mark = |line, yarn, mg| {
        Note(Record::Mark {
            line,
            yarn,
            weight: knitting::weight(mg),
        })
    };
    let [a, b, c] = [YarnLetter::A, YarnLetter::B, YarnLetter::C];
    let mut line = knitting::plan()[4];
    line.yarn = b;
    let calibration = |counts| Calibration::straight(FineCounts(-9_001), counts).expect("a sensible span");
    vec![
        Note(Record::Started(StartCause::PowerOn)),
        Note(Record::Calibrated(calibration(812.5))),
        Note(Record::Setting(Setting::Unit(Unit::Ounce))),
        Note(begun(1)),
        Note(Record::Yarn {
            letter: b,
            label: Label {
                metres_per_100_g: 420,
                fibre: Fibre::Wool,
            },
        }),
        Note(Record::Bowl {
            number: BowlNumber(2),
            mass: knitting::weight(83_400).net,
        }),
        Note(Record::Setting(Setting::BowlInUse(Some(BowlNumber(2))))),
        Note(knitting::visit(103_200)),
        Note(weigh_in(a, 103_200)),
        Amend(1),
        Note(weigh_in(b, 22_100)),
        mark(0, b, 18_050),
        Amend(1),
        Restart,
        Note(Record::Started(StartCause::Watchdog)),
        Note(knitting::visit(97_000)),
        mark(1, a, 88_700),
        Undo(1),
        mark(1, a, 88_900),
        Tidy,
        Note(Record::SharedZeroMark {
            line: 2,
            yarn: b,
            weight: knitting::weight(11_000),
            used_u: 12.5,
        }),
        Note(Record::LateMark {
            line: 3,
            yarn: a,
            weight: knitting::weight(85_000),
            visited: Stamp(14),
            before: None,
        }),
        Note(Record::LineChanged { index: 4, line }),
        Note(Record::Unplanned {
            yarn: b,
            weight: knitting::weight(10_400),
        }),
        Note(Record::Calibrated(calibration(812.9))),
        mark(4, b, 3_000),
        Note(Record::Skipped { line: 5 }),
        Undo(1),
        Note(weigh_in(c, 9_900)),
        mark(5, c, 5_000),
        Note(Record::ClockSet { unix: 1_700_000_000 }),
        Note(Record::Named {
            what: Named::Yarn(a),
            name: "rye field".try_into().expect("short"),
        }),
        Note(Record::Setting(Setting::Language(Language::German))),
        Note(Record::PairClosed { pair: 1 }),
        Condense,
        Note(Record::Named {
            what: Named::Pair(1),
            name: "harvest".try_into().expect("short"),
        }),
        Tidy,
        Note(begun(2)),
        Note(weigh_in(a, 85_000)),
    ]
}

/// So many pairs of everyday marks, amended each, with visits between and sectors made blank ahead of time.
#[must_use]
pub fn round_the_ring(pairs: u16) -> Vec<Step> {
    let mut steps = vec![
        Step::Note(Record::Setting(Setting::Brightness(3))),
        Step::Note(Record::Bowl {
            number: BowlNumber(1),
            mass: knitting::weight(41_000).net,
        }),
    ];
    for pair in 1..=pairs {
        for record in knitting::pair(pair, Sequence(0)) {
            steps.push(match record {
                Record::Amended { .. } => Step::Amend(1),
                other => Step::Note(other),
            });
        }
        steps.extend([
            Step::Note(Record::Setting(Setting::Sound(pair % 2 == 0))),
            Step::Condense,
            Step::Tidy,
        ]);
    }
    steps
}

/// So many pairs, and then more, behind each of which room is made if there is need.
#[must_use]
pub fn letting_pairs_go(before: u16, then: u16) -> Vec<Step> {
    let mut steps = round_the_ring(before);
    let pairs = round_the_ring(before.saturating_add(then));
    for step in pairs.into_iter().skip(steps.len()) {
        let is_last = matches!(step, Step::Tidy);
        steps.push(step);
        if is_last {
            steps.push(Step::MakeRoom);
        }
    }
    steps
}

/// So many changes of settings, with no pair ever begun.
#[must_use]
pub fn only_settings(changes: u16) -> Vec<Step> {
    let change = |change: u16| {
        let change = (change % 10) as u8;
        let bowl = (change != 0).then_some(BowlNumber(change));
        Step::Note(Record::Setting(Setting::BowlInUse(bowl)))
    };
    (0..changes).map(change).collect()
}

/// So many visits, with nothing ever marked.
#[must_use]
pub fn only_visits(visits: i32) -> Vec<Step> {
    (0..visits).map(|mg| Step::Note(knitting::visit(mg))).collect()
}

fn begun(pair: u16) -> Record {
    Record::PairBegun {
        pair,
        lines: knitting::plan(),
    }
}

fn weigh_in(yarn: YarnLetter, mg: i32) -> Record {
    Record::WeighIn {
        yarn,
        weight: knitting::weight(mg),
    }
}
