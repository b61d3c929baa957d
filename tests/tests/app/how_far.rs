//! How far? On the device: weighed, knitted, counted, weighed again; what is said, and that it survives the power.

use yarn_scale_core::forecast::RoundsLeft;
use yarn_scale_core::journal::{PairEvent, Record};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{Body, ItemLabel, Notice, RefusedWord, Value, Word};
use yarn_scale_tests::bench::{Bench, Key};

/// The page open, B weighed in with 20 g for the first cuff.
fn open() -> Bench {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.open(Word::HowFar);
    bench
}

fn says(bench: &Bench) -> Word {
    match bench.body() {
        Body::Guide(guide) => guide.say,
        other => panic!("no guide, but {other:?}"),
    }
}

fn value(bench: &Bench, word: Word) -> Value {
    let Body::List(list) = bench.body() else {
        panic!("no answer, but {:?}", bench.body())
    };
    let mut lines = list.items.iter();
    let line = lines.find(|item| item.label == ItemLabel::Word(word));
    line.unwrap_or_else(|| panic!("no {word:?} in {list:?}")).value
}

fn rounds(bench: &Bench, word: Word) -> RoundsLeft {
    match value(bench, word) {
        Value::Rounds(rounds) => rounds,
        other => panic!("{other:?}"),
    }
}

fn each(bench: &Bench) -> Measured {
    match value(bench, Word::EachRound) {
        Value::Small(mass) => mass,
        other => panic!("{other:?}"),
    }
}

fn counted(bench: &Bench) -> Value {
    value(bench, Word::RoundsCounted)
}

/// Begun at 20 g, five rounds knitted: 1 g.
fn five_rounds() -> Bench {
    let mut bench = open();
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.take();
    bench.put(19.0);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    bench
}

/// 0.2 g a round by hand. Of 19.0 g four rounds are kept for the cast-off: 18.2 / 0.2 = 91 rounds; of half the cake 9.0 / 0.2 = 45.
#[test]
fn five_rounds_by_hand() {
    let mut bench = open();
    assert_eq!(says(&bench), Word::HowFarBegin);
    bench.put(20.0);
    bench.press(Key::Mark);
    assert_eq!(says(&bench), Word::HowFarKnit);
    bench.take();
    bench.put(19.0);
    bench.press(Key::Mark);
    let Body::Edit(edit) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert_eq!((edit.title, edit.value), (Word::RoundsKnitted, Value::Number(5)));
    bench.press(Key::Mark);
    assert!((each(&bench).value.0 - 200).abs() < 5, "{:?}", each(&bench));
    assert_eq!(counted(&bench), Value::Number(5));
    let said = rounds(&bench, Word::BeforeCastOff);
    assert!((89..=93).contains(&said.likely), "{said:?}");
    assert!(said.least < said.likely && said.likely < said.most);
    let half = rounds(&bench, Word::BeforeHalf);
    assert!((44..=46).contains(&half.likely), "{half:?}");
    // No section is divided by it.
    let events = bench.journal.iter().filter(|entry| {
        matches!(
            entry.record,
            Record::OfPair {
                event: PairEvent::Rounds { .. },
                ..
            }
        )
    });
    assert_eq!(events.count(), 2);
    assert_eq!(bench.app.book().ledger().steps().len(), 1);
}

#[test]
fn every_later_weighing_sharpens_it() {
    let mut bench = five_rounds();
    let first = rounds(&bench, Word::BeforeCastOff);
    for grams in [18.0, 17.0, 16.0] {
        bench.take();
        bench.put(grams);
        bench.press(Key::Mark);
        bench.press(Key::Mark);
    }
    let last = rounds(&bench, Word::BeforeCastOff);
    assert_eq!(counted(&bench), Value::Number(20));
    let width = |said: RoundsLeft| f32::from(said.most - said.least) / f32::from(said.likely);
    assert!(width(last) < width(first), "{first:?} {last:?}");
}

#[test]
fn it_goes_on_after_the_power_was_cut() {
    let bench = five_rounds();
    let before = (each(&bench), counted(&bench));
    let mut bench = bench.power_cycle();
    bench.open(Word::HowFar);
    assert_eq!((each(&bench), counted(&bench)), before);
}

#[test]
fn more_rounds_than_are_kept_forget_the_oldest_and_nothing_else() {
    let mut bench = five_rounds();
    for step in 1..=15 {
        bench.take();
        bench.put(19.0 - 0.2 * f64::from(step) * 5.0 / 5.0);
        bench.press(Key::Mark);
        if step == 1 {
            // One round each from here on.
            for _ in 0..4 {
                bench.press(Key::Zero);
            }
        }
        bench.press(Key::Mark);
    }
    assert_eq!(counted(&bench), Value::Number(11), "twelve weighings");
    assert!((each(&bench).value.0 - 200).abs() < 8, "{:?}", each(&bench));
}

#[test]
fn a_wrong_cake_is_refused_and_so_is_one_that_was_not_knitted_from() {
    let mut bench = open();
    bench.put(40.0);
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::OtherCake));
    let mut bench = five_rounds();
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::NothingKnitted));
    bench.press(Key::Zero);
    bench.take();
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::EmptyPan));
}

#[test]
fn the_last_weighing_is_taken_back_by_a_hold() {
    let mut bench = five_rounds();
    bench.hold(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Undone { line: None }));
    bench.press(Key::Zero);
    assert_eq!(says(&bench), Word::HowFarKnit);
    assert_eq!(bench.app.book().ledger().steps().len(), 1, "the weigh-in stays");
}

#[test]
fn counting_can_begin_anew() {
    let mut bench = five_rounds();
    bench.press(Key::Mark);
    // Five, four, ... none.
    for _ in 0..7 {
        bench.press(Key::Zero);
    }
    assert!(matches!(bench.body(), Body::Edit(edit) if edit.value == Value::Word(Word::CountAnew)));
    bench.press(Key::Mark);
    assert_eq!(says(&bench), Word::HowFarKnit);
}

/// A mark between two counted weighings: the stretch goes from the mark.
#[test]
fn a_mark_of_the_yarn_begins_a_stretch() {
    let mut bench = five_rounds();
    bench.press(Key::Zero);
    bench.take();
    bench.put(16.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Noted { .. }), "{:?}", bench.body());
    // B again at the heel: counted rounds of the cuff say nothing there, and a heel has no rounds of one size.
    let mut bench = bench;
    bench.press(Key::Zero);
    bench.open(Word::Plan);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    bench.choose(Word::KnitThisNext);
    bench.open(Word::HowFar);
    assert_eq!(says(&bench), Word::HowFarShaped);
}

#[test]
fn before_the_yarn_is_weighed_in_it_says_so() {
    let mut bench = Bench::with_pair();
    bench.open(Word::HowFar);
    assert_eq!(says(&bench), Word::HowFarFirst);
    let mut bench = Bench::new();
    bench.open(Word::HowFar);
    assert_eq!(says(&bench), Word::HowFarFirst);
}
