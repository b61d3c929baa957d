//! The finished pair: pair check and "dry yet".

use yarn_scale_core::forecast::{DryWord, Dryness};
use yarn_scale_core::forecast::{Gap, PairCheck};
use yarn_scale_core::screen::{Body, KeyWord};
use yarn_scale_core::units::Stamp;

use super::Case;
use super::made::{case, measured};

const KEYS: [KeyWord; 3] = [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing];

pub(super) fn cases() -> Vec<Case> {
    let check = |name, meaning, gap| {
        case(
            name,
            Body::PairCheck(PairCheck {
                gap: measured(gap, 40.0),
                meaning,
            }),
            KEYS,
        )
    };
    let dry = |name, word, above: Option<i32>| {
        let above = above.map(|above| measured(above, 40.0));
        let still = match word {
            DryWord::Dry => 4 * 3_600,
            DryWord::Stalled => 39 * 3_600,
            DryWord::WeighAgain | DryWord::Drying => 0,
        };
        case(
            name,
            Body::Dry(Dryness {
                word,
                above,
                still_since: (still > 0).then_some(Stamp(7_200)),
                still,
                rate: -120.0,
            }),
            KEYS,
        )
    };
    vec![
        check("agrees", Gap::None, 60),
        check("ends", Gap::EndsCutOff, -420),
        check("damp", Gap::Damp, 1_310),
        check("missed", Gap::MissedMark, 4_180),
        check("too-much", Gap::TooMuchMarked, -5_900),
        dry("again", DryWord::WeighAgain, Some(21_400)),
        dry("drying", DryWord::Drying, Some(6_200)),
        dry("stalled", DryWord::Stalled, Some(1_900)),
        dry("dry", DryWord::Dry, Some(40)),
        dry("unknown", DryWord::Drying, None),
        dry("unknown-dry", DryWord::Dry, None),
    ]
}
