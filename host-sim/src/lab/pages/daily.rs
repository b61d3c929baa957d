//! Home, what each section took, the plan.

use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{
    Body, Idle, KeyWord, LineState, Pan, PlanPage, PlanRow, Status, Used, UsedCell, UsedRow, View,
};
use yarn_scale_core::sock::{BowlNumber, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::{Indication, Unit};

use super::Case;
use super::made::{LIST_KEYS, case, line, measured};

const MARK: [KeyWord; 3] = [KeyWord::Bowl, KeyWord::Mark, KeyWord::Next];
const EMPTY: [KeyWord; 3] = [KeyWord::Zero, KeyWord::Mark, KeyWord::Next];

pub(super) fn cases() -> Vec<Case> {
    let mut cases = home();
    cases.extend(used());
    cases.extend(plan());
    for (name, top, supply_low) in [("lit", 0, true), ("none-lit", 0, false), ("end", 3, false)] {
        let keys = [KeyWord::BackOrUp, KeyWord::Nothing, KeyWord::Down];
        let mut signs = case(name, Body::Signs(top), keys);
        signs.view.status = Status {
            supply_low,
            zero_unproven: supply_low,
            journal_filling: supply_low,
            doubtful: supply_low,
        };
        cases.push(signs);
    }
    cases.push(case("panel", Body::Edges, [KeyWord::Back, KeyWord::Ok, KeyWord::Next]));
    cases.push(case("asleep", Body::Dark, [KeyWord::Nothing; 3]));
    cases
}

/// A heel from yarn B: 19.2 g on the pan, 23.1 g at the last mark.
pub(super) fn steady() -> Pan {
    Pan {
        lifted: false,
        shown: Some(Indication::rounded(Milligrams(19_230), Unit::Gram)),
        steady: true,
        bowl: None,
        yarn: Some((YarnLetter::B, Some(Milligrams(23_140)))),
        section: Some(line(SectionKind::Heel, Sock::Second, YarnLetter::B)),
        used: Some(measured(3_910, 38.0)),
        other_sock: Some((Sock::First, Milligrams(7_120))),
        damp: false,
        metres: Some(79),
        mark_waits: false,
        proposal: None,
        pair: None,
        idle: Idle::NoPair,
        empty: false,
        perhaps_empty: false,
    }
}

fn home() -> Vec<Case> {
    let steady = steady();
    let pan = |name, pan, keys| case(name, Body::Pan(pan), keys);
    let lifted = Pan {
        shown: None,
        lifted: true,
        steady: false,
        used: None,
        metres: None,
        ..steady
    };
    let swinging = Pan {
        steady: false,
        used: None,
        metres: None,
        ..steady
    };
    let empty = Pan {
        shown: Some(Indication::rounded(Milligrams(0), Unit::Gram)),
        empty: true,
        used: None,
        metres: None,
        ..steady
    };
    let all_signs = Status {
        supply_low: true,
        zero_unproven: true,
        journal_filling: true,
        doubtful: true,
    };
    let longest = Pan {
        shown: Some(Indication::rounded(Milligrams(-488_800), Unit::Gram)),
        bowl: Some(BowlNumber(8)),
        section: Some(line(SectionKind::Cuff, Sock::Second, YarnLetter::B)),
        used: Some(measured(188_800, 4_400.0)),
        metres: Some(888),
        ..steady
    };
    let leg = Pan {
        section: Some(line(SectionKind::Leg, Sock::First, YarnLetter::A)),
        yarn: Some((YarnLetter::A, Some(Milligrams(98_340)))),
        shown: Some(Indication::rounded(Milligrams(76_450), Unit::Gram)),
        used: Some(measured(21_890, 40.0)),
        metres: Some(317),
        bowl: Some(BowlNumber(2)),
        ..steady
    };
    let mut cases = vec![
        pan("steady", steady, MARK),
        pan("steady-bowl", leg, MARK),
        pan(
            "damp",
            Pan {
                used: Some(measured(4_120, 560.0)),
                damp: true,
                ..steady
            },
            MARK,
        ),
        pan("lifted", lifted, EMPTY),
        pan("swinging", swinging, MARK),
        pan(
            "mark-waits",
            Pan {
                mark_waits: true,
                ..swinging
            },
            MARK,
        ),
        pan("empty", empty, EMPTY),
        pan(
            "perhaps-empty",
            Pan {
                shown: Some(Indication::rounded(Milligrams(310), Unit::Gram)),
                empty: false,
                perhaps_empty: true,
                ..empty
            },
            EMPTY,
        ),
        pan(
            "empty-new-yarn",
            Pan {
                yarn: Some((YarnLetter::C, None)),
                section: Some(line(SectionKind::Toe, Sock::First, YarnLetter::C)),
                ..empty
            },
            [KeyWord::Zero, KeyWord::WeighIn, KeyWord::Next],
        ),
        pan(
            "new-yarn",
            Pan {
                yarn: Some((YarnLetter::C, None)),
                section: Some(line(SectionKind::Toe, Sock::First, YarnLetter::C)),
                used: None,
                metres: None,
                ..steady
            },
            [KeyWord::Bowl, KeyWord::WeighIn, KeyWord::Next],
        ),
        pan(
            "not-the-yarn",
            Pan {
                used: None,
                metres: None,
                shown: Some(Indication::rounded(Milligrams(41_680), Unit::Gram)),
                ..steady
            },
            MARK,
        ),
        pan(
            "no-plan",
            Pan {
                yarn: None,
                section: None,
                used: None,
                metres: None,
                ..steady
            },
            [KeyWord::Bowl, KeyWord::Plan, KeyWord::Next],
        ),
        pan(
            "starting",
            Pan {
                shown: None,
                steady: false,
                ..empty
            },
            EMPTY,
        ),
        pan("longest", longest, MARK),
    ];
    let figures = pan(
        "figures",
        Pan {
            shown: Some(Indication::rounded(Milligrams(456_700), Unit::Gram)),
            ..steady
        },
        MARK,
    );
    cases.push(figures);
    cases.push(Case {
        name: "signs",
        view: View {
            status: all_signs,
            ..pan("signs", longest, MARK).view
        },
        page: "pan",
    });
    for (name, status) in [
        (
            "supply-low",
            Status {
                supply_low: true,
                ..Status::default()
            },
        ),
        (
            "zero-unproven",
            Status {
                zero_unproven: true,
                ..Status::default()
            },
        ),
    ] {
        let not_known = Pan { used: None, ..steady };
        let view = View {
            status,
            ..pan(name, not_known, MARK).view
        };
        cases.push(Case {
            name,
            view,
            page: "pan",
        });
    }
    let ounces = Pan {
        shown: Some(Indication::rounded(Milligrams(101_320), Unit::Ounce)),
        bowl: Some(BowlNumber(1)),
        ..steady
    };
    cases.push(Case {
        page: "pan",
        name: "ounces",
        view: View {
            unit: Unit::Ounce,
            ..pan("ounces", ounces, MARK).view
        },
    });
    cases
}

fn cell(milligrams: i32) -> Option<UsedCell> {
    Some(UsedCell {
        used: measured(milligrams, 42.0),
        amended: false,
        doubtful: false,
    })
}

fn used() -> Vec<Case> {
    let row = |kind, yarn, first, second| UsedRow {
        kind,
        yarn,
        first,
        second,
    };
    let rows = [
        row(SectionKind::Cuff, YarnLetter::B, cell(4_060), cell(4_130)),
        row(SectionKind::Leg, YarnLetter::A, cell(12_740), cell(12_310)),
        row(
            SectionKind::Heel,
            YarnLetter::B,
            cell(3_950).map(|cell| UsedCell { amended: true, ..cell }),
            cell(3_910).map(|cell| UsedCell { doubtful: true, ..cell }),
        ),
        row(SectionKind::Foot, YarnLetter::A, cell(14_210), None),
        row(SectionKind::Toe, YarnLetter::C, cell(3_120), None),
    ];
    let table = |top| {
        Body::Used(Used {
            rows: rows.into_iter().collect(),
            total: measured(58_430, 122.0),
            top,
        })
    };
    let keys = [KeyWord::DownOrUp, KeyWord::Mark, KeyWord::Next];
    let none = Used {
        rows: Default::default(),
        total: Measured::default(),
        top: 0,
    };
    vec![
        case("top", table(0), keys),
        case("middle", table(2), keys),
        case("end", table(3), keys),
        case("nothing-yet", Body::Used(none), keys),
    ]
}

fn plan() -> Vec<Case> {
    let kinds = [
        (SectionKind::Cuff, YarnLetter::B),
        (SectionKind::Leg, YarnLetter::A),
        (SectionKind::Heel, YarnLetter::B),
        (SectionKind::Foot, YarnLetter::A),
        (SectionKind::Toe, YarnLetter::C),
    ];
    let done = [4_060, 12_740, 3_950];
    let rows = [Sock::First, Sock::Second].into_iter().flat_map(|sock| {
        kinds.into_iter().enumerate().map(move |(place, (kind, yarn))| {
            let state = match (sock, done.get(place)) {
                (Sock::First, Some(&used)) => LineState::Done(measured(used, 42.0)),
                (Sock::First, None) if place == 3 => LineState::Skipped,
                _ => LineState::Open,
            };
            PlanRow {
                line: line(kind, sock, yarn),
                state,
            }
        })
    });
    let rows: heapless::Vec<PlanRow, 24> = rows.collect();
    let page = |selected| {
        Body::Plan(PlanPage {
            rows: rows.clone(),
            cursor: Some(4),
            selected,
        })
    };
    vec![
        case("top", page(0), LIST_KEYS),
        case("cursor", page(4), LIST_KEYS),
        case("end", page(9), LIST_KEYS),
    ]
}
