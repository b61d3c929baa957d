//! The check on the bench.

use yarn_scale_core::screen::{Body, Edit, Guide, Item, ItemLabel, KeyWord, List, Value, Word};
use yarn_scale_core::units::Milligrams;

use super::Case;
use super::made::{LIST_KEYS, case};

pub(super) fn cases() -> Vec<Case> {
    let item = |label, value| Item { label, value };
    let word = |word, value| item(ItemLabel::Word(word), value);
    let list = |keys, name, title, items: &[Item], selected| {
        let list = List {
            title,
            items: items.iter().copied().collect(),
            selected,
        };
        case(name, Body::List(list), keys)
    };
    let guide = |name, say, value, steady, keys| {
        let guide = Guide {
            title: Word::BenchCheck,
            say,
            value,
            steady,
        };
        case(name, Body::Guide(guide), keys)
    };
    let checked = |number, unit, verdict| Value::Checked(number, unit, verdict);
    let lines = [
        word(Word::PanelEdges, Value::Word(Word::Passed)),
        word(Word::Supply, checked(-1_204, Word::Millivolts, Word::Failed)),
        word(Word::Rate, checked(10, Word::EachSecond, Word::Passed)),
        word(Word::Noise, checked(1_950, Word::MilligramsShort, Word::Failed)),
        word(Word::EmptyPanCounts, Value::Word(Word::Passed)),
        word(Word::Drift, checked(-113, Word::MilligramsAMinute, Word::Failed)),
        word(Word::Span, checked(-4_295, Word::EachGram, Word::Failed)),
        word(Word::KeyBounce, Value::Word(Word::Failed)),
        word(Word::HumiditySensor, Value::Word(Word::NoLimit)),
        word(Word::Buzzer, Value::Nothing),
        word(Word::FlashNumber, Value::Word(Word::Failed)),
        word(Word::LastReset, Value::Word(Word::Failed)),
        word(Word::FirstNumber, checked(1_812, Word::Milliseconds, Word::Failed)),
    ];
    let answers = [Word::Yes, Word::No, Word::OnceMore].map(|answer| word(answer, Value::Nothing));
    let meter = Edit {
        title: Word::MeterReads,
        value: Value::Quantity(4_870, Word::Millivolts),
        hint: Some(Word::HoldMarkToLeave),
    };
    let presses = [("ZERO", 3), ("MARK", 1), ("NEXT", 0)];
    let presses = presses.map(|(name, left)| item(ItemLabel::Name(name), Value::Number(left)));
    vec![
        list(LIST_KEYS, "bench-check", Word::BenchCheck, &lines, 1),
        list(LIST_KEYS, "bench-check-middle", Word::BenchCheck, &lines, 5),
        list(LIST_KEYS, "bench-check-end", Word::BenchCheck, &lines, 12),
        case(
            "bench-meter",
            Body::Edit(meter),
            [KeyWord::Less, KeyWord::Ok, KeyWord::More],
        ),
        guide(
            "bench-empty",
            Word::EmptyThePan,
            Value::Nothing,
            true,
            [KeyWord::Back, KeyWord::Take, KeyWord::Nothing],
        ),
        guide(
            "bench-put-on",
            Word::PutOnPan,
            Value::Mass(Milligrams(100_000)),
            false,
            [KeyWord::Back, KeyWord::Take, KeyWord::Nothing],
        ),
        guide(
            "bench-measuring",
            Word::Measuring,
            Value::Quantity(54, Word::Seconds),
            true,
            [KeyWord::Back, KeyWord::Nothing, KeyWord::Nothing],
        ),
        list(
            [KeyWord::Nothing; 3],
            "bench-keys",
            Word::PressEachKey,
            &presses,
            u8::MAX,
        ),
        list(LIST_KEYS, "bench-buzzer", Word::BuzzerHeard, &answers, 0),
        list(
            LIST_KEYS,
            "bench-sensor",
            Word::SensorFitted,
            answers.first_chunk::<2>().expect("two"),
            0,
        ),
    ]
}
