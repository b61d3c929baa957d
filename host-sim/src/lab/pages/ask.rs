//! Questions.

use yarn_scale_core::journal::Sequence;
use yarn_scale_core::recognise::{Choice, Late, Source, WhyAsked};
use yarn_scale_core::screen::{Body, Question};
use yarn_scale_core::sock::{BowlNumber, SectionKind, Sock, Weight, YarnLetter};
use yarn_scale_core::units::{Milligrams, Stamp};

use super::Case;
use super::made::{LIST_KEYS, case, line, measured};

pub(super) fn cases() -> Vec<Case> {
    let yarn = YarnLetter::B;
    let used = Milligrams(14_230);
    let section = line(SectionKind::Heel, Sock::Second, yarn);
    let amount = |source| WhyAsked::Amount {
        section,
        used: Milligrams(14_230),
        expected: Milligrams(7_120),
        source,
    };
    let whys = [
        ("as-the-other-sock", amount(Source::OtherSock)),
        ("as-earlier-pairs", amount(Source::History)),
        ("as-the-stitches", amount(Source::Estimate)),
        ("as-usual", amount(Source::Usual)),
        (
            "heavier",
            WhyAsked::Heavier {
                yarn,
                by: Milligrams(103_420),
            },
        ),
        ("unchanged", WhyAsked::Unchanged { yarn }),
        (
            "other-yarn",
            WhyAsked::OtherYarn {
                planned: yarn,
                found: YarnLetter::C,
            },
        ),
        ("two-cakes", WhyAsked::TwoCakes),
        (
            "other-pair",
            WhyAsked::OtherPair {
                pair: 12,
                yarn: YarnLetter::C,
            },
        ),
    ];
    let choices = [
        Choice::NotNow,
        Choice::Section {
            line: 8,
            section,
            yarn,
            used,
        },
        Choice::Both(both(yarn)),
        Choice::OtherBowl {
            bowl: Some(BowlNumber(2)),
            yarn,
            used,
        },
        Choice::NothingUsed(YarnLetter::C),
        Choice::StartFromHere { yarn, unplanned: used },
    ];
    let weighed = whys.into_iter().zip([0, 1, 2, 3, 4, 5, 0, 0, 1]);
    let question = |why, weight, choices: &[Choice], selected| {
        Body::Question(Question {
            why,
            weight,
            choices: choices.iter().copied().collect(),
            selected,
        })
    };
    let on_pan = Some(Milligrams(31_200));
    let other_pair = [choices[0], Choice::OtherPair(12), choices[1], choices[5]];
    let choices_of = |why| match why {
        WhyAsked::OtherPair { .. } => other_pair.as_slice(),
        _ => choices.as_slice(),
    };
    let mut cases: Vec<Case> = weighed
        .map(|((name, why), selected)| case(name, question(why, on_pan, choices_of(why), selected), LIST_KEYS))
        .collect();
    let used_up = [choices[0], choices[1]];
    let weigh_in = [Choice::NotNow, Choice::WeighIn(YarnLetter::D)];
    let take_back = [
        Choice::NotNow,
        Choice::TakeBack {
            of: Sequence(9),
            section: Some(section),
            used: Some(used),
        },
    ];
    let goes_on = [
        Choice::NotNow,
        Choice::GoesOn {
            from: 12,
            was: YarnLetter::C,
            yarn: YarnLetter::D,
        },
        Choice::WeighIn(YarnLetter::D),
        Choice::OtherPair(12),
    ];
    let of_other_pair = WhyAsked::OtherPair {
        pair: 12,
        yarn: YarnLetter::C,
    };
    cases.push(case("goes-on", question(of_other_pair, on_pan, &goes_on, 1), LIST_KEYS));
    let other = WhyAsked::OtherYarn {
        planned: YarnLetter::D,
        found: YarnLetter::B,
    };
    cases.push(case(
        "used-up",
        question(WhyAsked::UsedUp { yarn }, None, &used_up, 0),
        LIST_KEYS,
    ));
    let heavier = WhyAsked::Heavier {
        yarn,
        by: Milligrams(4_230),
    };
    let back = Choice::StartFromHere {
        yarn,
        unplanned: Milligrams(-4_230),
    };
    cases.push(case(
        "ripped-back",
        question(heavier, on_pan, &[Choice::NotNow, back], 1),
        LIST_KEYS,
    ));
    cases.push(case("first-weight", question(other, on_pan, &weigh_in, 1), LIST_KEYS));
    cases.push(case(
        "take-back-more",
        question(WhyAsked::TakeBackMore { count: 2 }, None, &take_back, 0),
        LIST_KEYS,
    ));
    cases
}

fn both(yarn: YarnLetter) -> Late {
    Late {
        line: 6,
        section: line(SectionKind::Cuff, Sock::Second, yarn),
        yarn,
        visited: Stamp(0),
        weight: Weight {
            net: measured(40_000, 20.0),
            bowl: None,
            air: None,
        },
        used: Milligrams(5_120),
        then: Some((8, line(SectionKind::Heel, Sock::Second, yarn), Milligrams(9_110))),
        before: None,
    }
}
