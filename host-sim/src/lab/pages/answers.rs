//! Answers, and where to stop winding.

use yarn_scale_core::forecast::{Answer, Basis, Choice, KindSet, Reserve, Socks, Source, Winding, Word as Verdict};
use yarn_scale_core::forecast::{PerRound, Stretch};
use yarn_scale_core::screen::{
    About, AnswerPage, Body, Guide, Halve, Item, ItemLabel, KeyWord, List, Uses, Value, Word,
};
use yarn_scale_core::sock::{SectionKind, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_core::weighing::{Indication, Unit};

use super::Case;
use super::made::{LIST_KEYS, case, measured};

const REST: [KeyWord; 3] = [KeyWord::Yarn, KeyWord::Mark, KeyWord::Next];
const LEFTOVER: [KeyWord; 3] = [KeyWord::Back, KeyWord::List, KeyWord::Next];

pub(super) fn cases() -> Vec<Case> {
    let mut cases = rest();
    cases.extend(leftover());
    cases.extend(how_far());
    cases.extend(uses());
    cases.extend(halve());
    cases.extend(guide());
    cases
}

fn answer(word: Verdict, spare: i32, [least, need]: [i32; 2], basis: Basis) -> Answer {
    let expected = (least + need) / 2;
    Answer {
        word,
        likely: Milligrams(need + spare - expected),
        reserve: Milligrams(need - expected),
        left: measured(need + spare, 40.0),
        expected: Milligrams(expected),
        least: Milligrams(least),
        need: Milligrams(need),
        basis,
    }
}

const SOCK_1: Basis = Basis {
    source: Source::FirstSock,
    reserve: Reserve::Spread { pairs: 5 },
    scaled: false,
};
const RECORDS: Basis = Basis {
    source: Source::Records,
    reserve: Reserve::Spread { pairs: 12 },
    scaled: false,
};
const ESTIMATE: Basis = Basis {
    source: Source::Estimate,
    reserve: Reserve::Quarter,
    scaled: false,
};

fn rest() -> Vec<Case> {
    let page = |name, yarn, answer, way_out, place| {
        let page = AnswerPage {
            about: About::RestOf(yarn),
            answer,
            way_out,
            parts: false,
            weighed_in: true,
            place,
        };
        case(name, Body::Answer(page), REST)
    };
    let not_weighed_in = |name, answer| {
        let page = AnswerPage {
            about: About::RestOf(YarnLetter::B),
            answer,
            way_out: None,
            parts: false,
            weighed_in: false,
            place: (2, 3),
        };
        case(name, Body::Answer(page), REST)
    };
    let toes = KindSet::default().with(SectionKind::Toe).with(SectionKind::Cuff);
    vec![
        page(
            "rest-enough",
            YarnLetter::A,
            Some(answer(Verdict::Enough, 9_410, [26_100, 30_400], SOCK_1)),
            None,
            (1, 3),
        ),
        page(
            "rest-close",
            YarnLetter::B,
            Some(answer(Verdict::Close, -1_320, [7_200, 9_800], RECORDS)),
            None,
            (2, 3),
        ),
        page(
            "rest-short",
            YarnLetter::C,
            Some(answer(Verdict::Short, -3_060, [6_100, 7_800], ESTIMATE)),
            Some(toes),
            (3, 3),
        ),
        page(
            "rest-scaled",
            YarnLetter::C,
            Some(answer(
                Verdict::Short,
                -3_060,
                [6_100, 7_800],
                Basis {
                    scaled: true,
                    ..RECORDS
                },
            )),
            None,
            (1, 1),
        ),
        page("rest-not-known", YarnLetter::B, None, None, (2, 3)),
        not_weighed_in(
            "rest-not-weighed-in",
            Some(answer(Verdict::Short, -9_800, [7_200, 9_800], ESTIMATE)),
        ),
        not_weighed_in("rest-not-weighed-in-not-known", None),
        page(
            "rest-longest",
            YarnLetter::B,
            Some(answer(Verdict::Enough, 488_800, [88_800, 148_800], SOCK_1)),
            None,
            (8, 8),
        ),
    ]
}

fn leftover() -> Vec<Case> {
    let all = [SectionKind::Cuff, SectionKind::Heel, SectionKind::Toe];
    let set = |kinds: &[SectionKind]| kinds.iter().fold(KindSet::default(), |set, &kind| set.with(kind));
    let page = |name, kinds, socks, answer, place| {
        let page = AnswerPage {
            about: About::Leftover { kinds, socks },
            answer: Some(answer),
            way_out: None,
            parts: false,
            weighed_in: true,
            place,
        };
        case(name, Body::Answer(page), LEFTOVER)
    };
    vec![
        page(
            "leftover-enough",
            set(&all[1..]),
            Socks::Both,
            answer(Verdict::Enough, 1_640, [12_000, 15_900], RECORDS),
            (1, 14),
        ),
        page(
            "leftover-close",
            set(&all),
            Socks::One,
            answer(Verdict::Close, -420, [10_100, 13_300], SOCK_1),
            (7, 14),
        ),
        page(
            "leftover-scaled",
            set(&all[..1]),
            Socks::Both,
            answer(
                Verdict::Enough,
                1_640,
                [12_000, 15_900],
                Basis {
                    scaled: true,
                    ..RECORDS
                },
            ),
            (10, 14),
        ),
        page(
            "leftover-short",
            set(&all),
            Socks::Both,
            answer(Verdict::Short, -11_420, [20_100, 27_300], ESTIMATE),
            (14, 14),
        ),
    ]
}

/// Rounds left of a cake, by a stretch of five rounds and by a long leg.
fn how_far() -> Vec<Case> {
    let page = |name, rounds, used, left, keep: [(Word, i32); 3]| {
        let stretch = Stretch {
            rounds,
            used: measured(used, 20.0),
        };
        let per_round = PerRound::of(&[stretch], stretch.used.u).expect("something was used");
        let left = measured(left, 14.0);
        let before =
            keep.map(|(word, reserve)| (word, Value::Rounds(per_round.rounds_left(left, Milligrams(reserve)))));
        let rests_on = [
            (Word::EachRound, Value::Small(per_round.into())),
            (Word::RoundsCounted, Value::Number(rounds.into())),
        ];
        let items = before.into_iter().chain(rests_on).map(|(word, value)| Item {
            label: ItemLabel::Word(word),
            value,
        });
        let list = List {
            title: Word::RoundsLeft,
            items: items.collect(),
            selected: if rounds > 50 { 4 } else { 0 },
        };
        let [back, _, down] = LIST_KEYS;
        case(name, Body::List(list), [back, KeyWord::Take, down])
    };
    let keep = |cast_off, toe, half| {
        [
            (Word::BeforeCastOff, cast_off),
            (Word::BeforeToe, toe),
            (Word::BeforeHalf, half),
        ]
    };
    vec![
        page("how-far", 5, 1_004, 21_400, keep(804, 5_420, 20_100)),
        page("how-far-longest", 60, 14_870, 488_800, keep(1_000, 13_420, 250_000)),
    ]
}

/// All uses of a leftover of 15.3 g.
fn uses() -> Vec<Case> {
    let kinds = [SectionKind::Heel, SectionKind::Toe, SectionKind::Cuff];
    let set = |count: usize| {
        kinds
            .iter()
            .take(count)
            .fold(KindSet::default(), |set, &kind| set.with(kind))
    };
    let choice = |kinds, socks, answer| Choice { kinds, socks, answer };
    let choices = [
        choice(
            set(2),
            Socks::Both,
            answer(Verdict::Enough, 1_640, [12_000, 15_900], RECORDS),
        ),
        choice(
            set(3),
            Socks::One,
            answer(Verdict::Close, -420, [10_100, 13_300], RECORDS),
        ),
        choice(
            set(3),
            Socks::Both,
            answer(Verdict::Short, -11_420, [20_100, 27_300], RECORDS),
        ),
        choice(
            set(3),
            Socks::Both,
            answer(Verdict::Enough, 488_800, [88_800, 148_800], RECORDS),
        ),
    ];
    let page = |name, selected| {
        let uses = Uses {
            choices: choices.into_iter().collect(),
            selected,
        };
        case(name, Body::Uses(uses), LIST_KEYS)
    };
    vec![page("best", 0), page("middle", 1), page("last", 3)]
}

fn halve() -> Vec<Case> {
    let page = |name, whole: Option<i32>, to_go: Option<i32>, steady| {
        let halve = Halve {
            whole: whole.map(Milligrams),
            shown: to_go.map(|to_go| Indication::rounded(Milligrams(49_210 + to_go), Unit::Gram)),
            to_go: to_go.map(Milligrams),
            winding: match to_go {
                None | Some(1_000..) => Winding::GoOn,
                Some(100..) => Winding::Slowly,
                Some(0..) => Winding::Stop,
                Some(_) => Winding::Back,
            },
            steady,
        };
        let keys = match whole {
            None => [KeyWord::Back, KeyWord::Take, KeyWord::Nothing],
            Some(_) => [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing],
        };
        case(name, Body::Halve(halve), keys)
    };
    vec![
        page("begin", None, None, true),
        page("winding", Some(98_420), Some(23_340), false),
        page("slowly", Some(98_420), Some(640), false),
        page("there", Some(98_420), Some(0), true),
        page("too-far", Some(98_420), Some(-2_110), true),
    ]
}

fn guide() -> Vec<Case> {
    let page = |name, title, say, value, steady| {
        let guide = Guide {
            title,
            say,
            value,
            steady,
        };
        case(
            name,
            Body::Guide(guide),
            [KeyWord::Back, KeyWord::Take, KeyWord::Nothing],
        )
    };
    vec![
        page("leftover", Word::WillItDo, Word::PutLeftoverOn, Value::Nothing, false),
        page("empty-pan", Word::Calibration, Word::EmptyThePan, Value::Nothing, true),
        page(
            "put-on",
            Word::Calibration,
            Word::PutOnPan,
            Value::Measured(measured(100_000, 400.0)),
            true,
        ),
        page("cup-on", Word::Calibration, Word::CupOnPan, Value::Nothing, true),
        page(
            "mass-with-cup",
            Word::Calibration,
            Word::MassWithCup,
            Value::Measured(measured(200_000, 400.0)),
            true,
        ),
        page(
            "lift",
            Word::Calibration,
            Word::LiftAndPlaceAgain,
            Value::Number(2),
            false,
        ),
    ]
}
