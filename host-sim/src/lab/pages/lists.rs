//! Lists and values to set.

use yarn_scale_core::screen::{Body, Edit, Item, ItemLabel, KeyWord, List, Value, Word};
use yarn_scale_core::sock::{BowlNumber, SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;

use super::Case;
use super::made::{LIST_KEYS, case, with_names};

pub(super) fn cases() -> Vec<Case> {
    let item = |label, value| Item { label, value };
    let word = |word, value| item(ItemLabel::Word(word), value);
    let with_keys = |keys, name, title, items: &[Item], selected| {
        let list = List {
            title,
            items: items.iter().copied().collect(),
            selected,
        };
        case(name, Body::List(list), keys)
    };
    let list = |name, title, items: &[Item], selected| with_keys(LIST_KEYS, name, title, items, selected);
    let edit = |name, title, value| {
        let edit = Edit {
            title,
            value,
            hint: Some(Word::HoldMarkToLeave),
        };
        case(name, Body::Edit(edit), [KeyWord::Less, KeyWord::Ok, KeyWord::More])
    };
    vec![
        list(
            "everything",
            Word::Everything,
            &[
                word(Word::Plan, Value::Nothing),
                word(Word::NewPair, Value::Nothing),
                word(Word::Bowls, Value::Nothing),
                word(Word::Units, Value::Word(Word::Grams)),
            ],
            3,
        ),
        list(
            "make-room",
            Word::MakeRoom,
            &[
                word(Word::ChoiceNotNow, Value::Nothing),
                word(Word::OldestPairsGo, Value::Number(184)),
            ],
            0,
        ),
        list(
            "make-room-again",
            Word::BackedUp,
            &[
                word(Word::ChoiceNotNow, Value::Nothing),
                word(Word::GoneUpToPair, Value::Number(1_184)),
            ],
            1,
        ),
        list(
            "bowls",
            Word::WhichBowl,
            &[
                item(ItemLabel::NewBowl(BowlNumber(3)), Value::Mass(Milligrams(92_310))),
                item(ItemLabel::Bowl(BowlNumber(1)), Value::Mass(Milligrams(148_220))),
                item(ItemLabel::Bowl(BowlNumber(2)), Value::Mass(Milligrams(61_070))),
                word(Word::NoBowl, Value::Nothing),
            ],
            0,
        ),
        list(
            "this-section",
            Word::ThisSection,
            &[
                word(Word::KnitThisNext, Value::Nothing),
                word(Word::ChangeYarn, Value::Yarn(YarnLetter::B)),
                word(Word::ForgottenMark, Value::Nothing),
                word(Word::SkipSection, Value::Nothing),
            ],
            1,
        ),
        list(
            "visits",
            Word::WhichVisit,
            &[
                item(ItemLabel::MinutesAgo(7), Value::Mass(Milligrams(19_230))),
                item(
                    ItemLabel::MinutesAgo(1_310),
                    Value::Both(Milligrams(14_140), Milligrams(17_620)),
                ),
                item(ItemLabel::MinutesAgo(4_400), Value::Mass(Milligrams(23_090))),
            ],
            1,
        ),
        list(
            "take-back",
            Word::TakesBack,
            &[
                item(
                    ItemLabel::Section(SectionKind::Leg, Sock::Second),
                    Value::Change(Some(Milligrams(15_230)), None),
                ),
                item(
                    ItemLabel::Section(SectionKind::Foot, Sock::Second),
                    Value::Change(Some(Milligrams(17_010)), Some(Milligrams(32_240))),
                ),
                word(Word::NextMarkTakes, Value::Mass(Milligrams(15_230))),
            ],
            u8::MAX,
        ),
        list(
            "move-to",
            Word::MoveTo,
            &[
                item(
                    ItemLabel::Section(SectionKind::Heel, Sock::Second),
                    Value::Yarn(YarnLetter::B),
                ),
                item(
                    ItemLabel::Section(SectionKind::Foot, Sock::Second),
                    Value::Yarn(YarnLetter::A),
                ),
            ],
            0,
        ),
        list(
            "presets",
            Word::NewPair,
            &[
                word(Word::OneYarn, Value::Nothing),
                word(Word::ContrastHeelsToes, Value::Nothing),
                word(Word::ContrastCuffsHeelsToes, Value::Nothing),
                word(Word::OneYarnToeUp, Value::Nothing),
                word(Word::ContrastToeUp, Value::Nothing),
            ],
            4,
        ),
        with_keys(
            [KeyWord::Back, KeyWord::Check, KeyWord::Down],
            "diagnostics",
            Word::Diagnostics,
            &[
                word(Word::SelfTest, Value::Word(Word::Good)),
                word(Word::Counts, Value::Number(-8_388_608)),
                word(Word::ASecond, Value::Number(10)),
                word(Word::Noise, Value::Quantity(18, Word::MilligramsShort)),
                word(Word::Drift, Value::Quantity(-3, Word::MilligramsAMinute)),
                word(Word::Supply, Value::Quantity(3_870, Word::Millivolts)),
                word(Word::JournalUsed, Value::Quantity(41, Word::Percent)),
                word(Word::Hangs, Value::Number(0)),
                word(Word::Errors, Value::Number(12)),
                word(Word::CalibrationOf100Grams, Value::PlusMinus(Milligrams(31))),
                word(Word::Version, Value::Name("0.1.0")),
            ],
            2,
        ),
        with_keys(
            [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing],
            "battery",
            Word::Battery,
            &[
                word(Word::SupplyAlkaline, Value::Quantity(3_912, Word::Millivolts)),
                word(Word::LastsAbout, Value::Quantity(27, Word::Days)),
                word(Word::InUseADay, Value::Quantity(2, Word::Hours)),
            ],
            u8::MAX,
        ),
        with_keys(
            [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing],
            "battery-usb",
            Word::Battery,
            &[
                word(Word::SupplyUsb, Value::Quantity(4_803, Word::Millivolts)),
                word(Word::LastsAbout, Value::Word(Word::NotKnown)),
                word(Word::InUseADay, Value::Quantity(1, Word::Hours)),
            ],
            u8::MAX,
        ),
        with_keys(
            [KeyWord::Back, KeyWord::Accept, KeyWord::Nothing],
            "proven",
            Word::AcceptCalibration,
            &[
                word(Word::Of300Grams, Value::PlusMinus(Milligrams(93))),
                word(Word::Linearity, Value::Judged(Milligrams(12), Word::Good)),
                word(Word::Repeatability, Value::Judged(Milligrams(124), Word::Poor)),
                word(Word::Corners, Value::Word(Word::NotTried)),
            ],
            u8::MAX,
        ),
        list(
            "coins",
            Word::WhichCoin,
            &[
                item(ItemLabel::Name("20 cent EUR"), Value::Mass(Milligrams(5_740))),
                item(ItemLabel::Name("50 cent EUR"), Value::Mass(Milligrams(7_800))),
                item(ItemLabel::Name("5 cent USD"), Value::Mass(Milligrams(5_000))),
            ],
            1,
        ),
        with_names(
            &[(YarnLetter::A, "Sloe"), (YarnLetter::C, "Winter wheat with nettle")],
            list(
                "yarns",
                Word::Yarns,
                &[
                    item(ItemLabel::Yarn(YarnLetter::A), Value::Mass(Milligrams(62_380))),
                    item(ItemLabel::Yarn(YarnLetter::B), Value::Mass(Milligrams(14_110))),
                    item(ItemLabel::Yarn(YarnLetter::C), Value::Mass(Milligrams(102_440))),
                    item(ItemLabel::Yarn(YarnLetter::D), Value::Nothing),
                    item(ItemLabel::Yarn(YarnLetter::E), Value::Nothing),
                ],
                2,
            ),
        ),
        edit("known-mass", Word::KnownMass, Value::Mass(Milligrams(200_000))),
        edit("how-many", Word::HowMany, Value::Number(10)),
        edit("length", Word::LengthOf100Grams, Value::Quantity(420, Word::Metres)),
    ]
}
