//! Questions.

use yarn_scale_core::ledger::{Choice, WhyAsked};
use yarn_scale_core::screen::{Body, Question};
use yarn_scale_core::sock::{BowlNumber, YarnLetter};
use yarn_scale_core::units::Milligrams;

use super::Case;
use super::made::{LIST_KEYS, case};

pub(super) fn cases() -> Vec<Case> {
    let yarn = YarnLetter::B;
    let used = Milligrams(14_230);
    let whys = [
        ("ambiguous", WhyAsked::Ambiguous),
        (
            "heavier",
            WhyAsked::Heavier {
                yarn,
                by: Milligrams(103_420),
            },
        ),
        (
            "lighter",
            WhyAsked::Lighter {
                yarn,
                by: Milligrams(14_230),
            },
        ),
        ("unchanged", WhyAsked::Unchanged { yarn }),
        ("used-up", WhyAsked::UsedUp { yarn }),
        (
            "other-yarn",
            WhyAsked::OtherYarn {
                planned: yarn,
                found: YarnLetter::C,
            },
        ),
    ];
    let choices = [
        Choice::Section { yarn, used },
        Choice::OtherBowl {
            bowl: Some(BowlNumber(2)),
            yarn,
            used,
        },
        Choice::WeighIn(YarnLetter::D),
        Choice::StartFromHere(yarn),
        Choice::NotNow,
    ];
    whys.into_iter()
        .zip([0, 1, 2, 3, 4, 0])
        .map(|((name, why), selected)| {
            let question = Question {
                why,
                weight: Milligrams(31_200),
                choices: choices.into_iter().collect(),
                selected,
            };
            case(name, Body::Question(question), LIST_KEYS)
        })
        .collect()
}
