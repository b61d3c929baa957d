//! The list of pairs, and the summary of one.

use yarn_scale_core::screen::{
    Body, Idle, Item, ItemLabel, KeyWord, Name, PairRow, PairSummary, Pairs, Pan, Value, Word,
};
use yarn_scale_core::sock::{Line, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::{Indication, Unit};

use super::Case;
use super::daily::steady;
use super::made::{LIST_KEYS, case, line, with_names};

pub(super) fn cases() -> Vec<Case> {
    let list = |name, are_full, rows: &[PairRow], selected| {
        let rows = rows.iter().cloned().collect();
        let list = Pairs {
            are_full,
            rows,
            selected,
        };
        case(name, Body::Pairs(list), LIST_KEYS)
    };
    let many = many();
    let pan = |name, pan, mark| case(name, Body::Pan(pan), [KeyWord::Bowl, mark, KeyWord::Next]);
    let several = Pan {
        pair: Some(12),
        ..steady()
    };
    let no_section = |idle| Pan {
        yarn: None,
        section: None,
        used: None,
        metres: None,
        idle,
        ..steady()
    };
    vec![
        pan(
            "one-of-several",
            Pan {
                metres: None,
                ..several
            },
            KeyWord::Mark,
        ),
        pan("one-of-several-metres", several, KeyWord::Mark),
        case(
            "proposal",
            Body::Pan(Pan {
                shown: Some(Indication::rounded(Milligrams(41_230), Unit::Gram)),
                used: None,
                proposal: Some((12, YarnLetter::A)),
                pair: Some(9),
                metres: None,
                ..steady()
            }),
            [KeyWord::ToPair, KeyWord::Mark, KeyWord::Next],
        ),
        pan("other-pairs", no_section(Idle::OtherPairs), KeyWord::Pairs),
        pan("all-done", no_section(Idle::AllDone), KeyWord::Finish),
        list("two", false, many.get(..2).unwrap_or_default(), 1),
        list("new", false, many.get(..1).unwrap_or_default(), 1),
        list("many", false, &many, 4),
        list("finish-one", true, many.get(..8).unwrap_or_default(), 2),
        summary("knitting", false, None, None),
        summary("finished", true, None, Some("Schlehe im November weit")),
        summary("finished-days", true, Some(12), None),
        summary("finished-day", true, Some(1), None),
        with_names(
            &[(YarnLetter::A, "Sloe"), (YarnLetter::B, "Moss green")],
            summary("names", true, Some(12), None),
        ),
    ]
}

fn name(name: &str) -> Name {
    name.try_into().unwrap_or_default()
}

fn many() -> Vec<PairRow> {
    let [a, b, c] = [YarnLetter::A, YarnLetter::B, YarnLetter::C];
    let row = |number, next: Option<Line>, yarns: &[(YarnLetter, i32)], minutes_ago| PairRow {
        number,
        name: None,
        finished: false,
        next,
        yarns: yarns.iter().map(|&(yarn, mg)| (yarn, Milligrams(mg))).collect(),
        minutes_ago,
    };
    let next = |kind, sock, yarn| Some(line(kind, sock, yarn));
    let foot = next(SectionKind::Foot, Sock::Second, a);
    let mut rows = vec![
        row(12, foot, &[(a, 41_230), (b, 14_110)], Some(4)),
        row(
            9,
            next(SectionKind::Gusset, Sock::First, b),
            &[(a, 62_380), (b, 19_240)],
            Some(2 * 1_440),
        ),
        row(
            7,
            next(SectionKind::Toe, Sock::Second, c),
            &[(a, 8_020), (b, 3_310), (c, 102_440)],
            Some(23 * 1_440),
        ),
        row(11, next(SectionKind::Cuff, Sock::First, a), &[], None),
        row(
            10,
            next(SectionKind::Heel, Sock::First, b),
            &[(a, 77_000), (b, 12_000)],
            Some(61 * 1_440),
        ),
        row(8, None, &[(a, 13_550)], Some(180)),
        row(13, foot, &[(a, 55_000)], Some(200 * 1_440)),
        row(14, foot, &[(a, 48_000)], Some(201 * 1_440)),
    ];
    if let Some(named) = rows.get_mut(2) {
        named.name = Some(name("Schlehe"));
    }
    rows.push(PairRow {
        finished: true,
        ..row(6, None, &[(a, 9_710), (b, 2_140)], Some(1_440))
    });
    rows
}

fn summary(case_name: &'static str, finished: bool, days: Option<u16>, called: Option<&str>) -> Case {
    let item = |label, value| Item { label, value };
    let both = |kind, one, two| item(ItemLabel::Kind(kind), Value::Both(Milligrams(one), Milligrams(two)));
    let left = |yarn, mg| item(ItemLabel::YarnLeft(yarn), Value::Mass(Milligrams(mg)));
    let reopen = item(ItemLabel::Word(Word::OpenPair), Value::Nothing);
    let items = [
        both(SectionKind::Cuff, 4_210, 4_330),
        both(SectionKind::Leg, 14_870, 15_010),
        both(SectionKind::Heel, 7_120, 7_080),
        both(SectionKind::Foot, 17_760, 17_910),
        both(SectionKind::Toe, 4_790, 4_820),
        left(YarnLetter::A, 34_450),
        left(YarnLetter::B, 3_650),
    ];
    let summary = PairSummary {
        number: 12,
        name: called.map(name),
        finished,
        days,
        items: items.into_iter().chain(finished.then_some(reopen)).collect(),
        selected: if days.is_some() { 7 } else { 0 },
    };
    let mark = match (finished, days) {
        (false, _) => KeyWord::Finish,
        (true, None) => KeyWord::Ok,
        (true, Some(_)) => KeyWord::Choose,
    };
    case(
        case_name,
        Body::PairSummary(summary),
        [KeyWord::BackOrUp, mark, KeyWord::Down],
    )
}
