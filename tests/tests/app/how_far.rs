//! How far? On the device: weighed, knitted, counted, weighed again; what is said, and that it survives the power.

use yarn_scale_core::journal::{PairEvent, Record};
use yarn_scale_core::screen::{Body, HowFar, Notice, RefusedWord, Value, Word};
use yarn_scale_core::units::Milligrams;
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

fn answer(bench: &Bench) -> HowFar {
    match bench.body() {
        Body::HowFar(answer) => answer,
        other => panic!("no answer, but {other:?}"),
    }
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
    let said = answer(&bench);
    assert!((said.pace.per_round.mass - 200.0).abs() < 5.0, "{said:?}");
    assert_eq!((said.pace.rounds, said.pace.stretches), (5, 1));
    assert!((89..=93).contains(&said.left.likely), "{said:?}");
    assert!(said.left.least < said.left.likely && said.left.likely < said.left.most);
    // The list of what can be kept back.
    bench.press(Key::Next);
    bench.choose(Word::KeepHalf);
    let half = answer(&bench);
    assert!((44..=46).contains(&half.left.likely), "{half:?}");
    assert_eq!(half.keep, (Word::KeepHalf, Milligrams(10_000)));
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
    let first = answer(&bench);
    for grams in [18.0, 17.0, 16.0] {
        bench.take();
        bench.put(grams);
        bench.press(Key::Mark);
        bench.press(Key::Mark);
    }
    let last = answer(&bench);
    assert_eq!((last.pace.rounds, last.pace.stretches), (20, 4));
    let width = |said: HowFar| f32::from(said.left.most - said.left.least) / f32::from(said.left.likely);
    assert!(width(last) < width(first), "{first:?} {last:?}");
}

#[test]
fn it_goes_on_after_the_power_was_cut() {
    let bench = five_rounds();
    let before = answer(&bench);
    let mut bench = bench.power_cycle();
    bench.open(Word::HowFar);
    let after = answer(&bench);
    assert_eq!(after.pace, before.pace);
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
    let said = answer(&bench);
    assert_eq!(said.pace.stretches, 11, "twelve weighings");
    assert!((said.pace.per_round.mass - 200.0).abs() < 8.0, "{said:?}");
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
    bench.press(Key::Next);
    bench.choose(Word::CountAnew);
    assert_eq!(says(&bench), Word::HowFarBegin);
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
