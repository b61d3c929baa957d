//! Mistakes of people, and of the keys under their fingers: asked about or refused with a notice, never noted wrongly. The table of all
//! faults is `tests/faults.md`.

use yarn_scale_core::app::Effect;
use yarn_scale_core::board::Tone;
use yarn_scale_core::journal::{Record, Setting};
use yarn_scale_core::recognise::{Choice, WhyAsked};
use yarn_scale_core::screen::{Body, Notice, RefusedWord, Word};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_tests::bench::{Bench, Key};

fn question(bench: &Bench) -> yarn_scale_core::screen::Question {
    match bench.body() {
        Body::Question(question) => question,
        other => panic!("no question, but {other:?}"),
    }
}

#[test]
fn a_mark_on_an_empty_pan_asks_whether_the_yarn_is_used_up() {
    let mut bench = Bench::weighed_in();
    bench.press(Key::Mark);
    assert_eq!(question(&bench).why, WhyAsked::UsedUp { yarn: YarnLetter::B });
    assert_eq!(question(&bench).choices.first(), Some(&Choice::NotNow));
}

#[test]
fn a_mark_on_an_empty_pan_before_any_weighing_is_refused() {
    let mut bench = Bench::new();
    bench.begin_pair();
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::EmptyPan));
}

#[test]
fn the_wrong_cake_is_called_by_its_letter() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    bench.press(Key::Mark);
    bench.take();
    // The leg is knitted from A; B stands on the pan.
    bench.put(100.0);
    bench.press(Key::Mark);
    bench.take();
    bench.put(16.0);
    bench.press(Key::Mark);
    let asked = question(&bench);
    assert!(
        matches!(asked.why, WhyAsked::Amount { .. } | WhyAsked::OtherYarn { .. }),
        "{asked:?}"
    );
    assert_eq!(
        bench.app.book().ledger().steps().len(),
        3,
        "nothing is noted before the answer"
    );
}

#[test]
fn a_much_lighter_cake_is_asked_about() {
    let mut bench = Bench::weighed_in();
    bench.put(60.0);
    bench.press(Key::Mark);
    let heavier = question(&bench);
    assert!(matches!(heavier.why, WhyAsked::Heavier { .. }));
    bench.press(Key::Zero);
    bench.take();
    let mut bench = Bench::new();
    bench.begin_pair();
    bench.put(100.0);
    bench.press(Key::Mark);
    bench.put(40.0);
    bench.press(Key::Mark);
    assert!(matches!(question(&bench).why, WhyAsked::Amount { .. }));
}

#[test]
fn a_bowl_forgotten_is_offered_as_what_it_is() {
    let mut bench = Bench::new();
    bench.begin_pair();
    bench.put(85.0);
    bench.press(Key::Zero);
    bench.press(Key::Mark);
    bench.put(105.0);
    bench.press(Key::Mark);
    bench.take();
    // The cake comes back without its bowl.
    bench.put(16.0);
    bench.press(Key::Mark);
    let offered = question(&bench).choices;
    assert!(
        matches!(
            offered.get(1),
            Some(Choice::OtherBowl {
                bowl: None,
                yarn: YarnLetter::B,
                ..
            })
        ),
        "{offered:?}"
    );
    bench.press(Key::Next);
    bench.press(Key::Mark);
    let deeds = bench.deeds();
    assert!(
        matches!(
            deeds.as_slice(),
            [.., Record::Setting(Setting::BowlInUse(None)), Record::Mark { .. }]
        ),
        "{deeds:?}"
    );
}

#[test]
fn a_hand_left_on_the_pan_is_not_steady() {
    let mut bench = Bench::weighed_in();
    bench.shake(20.0, 4.0);
    assert!(
        matches!(bench.body(), Body::Pan(pan) if !pan.steady),
        "{:?}",
        bench.body()
    );
}

#[test]
fn zero_with_a_load_asks_for_the_bowl_instead() {
    let mut bench = Bench::weighed_in();
    bench.put(30.0);
    bench.press(Key::Zero);
    assert!(matches!(bench.body(), Body::List(_)));
    bench.press(Key::Zero);
    assert!(matches!(bench.body(), Body::Pan(pan) if pan.shown.is_some_and(|shown| shown.steps() == 300)));
}

#[test]
fn a_mark_without_a_plan_leads_to_one() {
    let mut bench = Bench::new();
    bench.put(20.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::List(_)));
    assert!(bench.deeds().is_empty());
}

#[test]
fn a_mark_after_the_last_section_leads_to_a_new_plan() {
    let mut bench = Bench::weighed_in();
    for _ in 0..10 {
        bench.open(Word::Plan);
        bench.press(Key::Mark);
        bench.choose(Word::SkipSection);
        bench.wait(7.0);
    }
    // With its last section left out the pair is finished.
    assert!(
        matches!(bench.body(), Body::PairSummary(summary) if summary.finished),
        "{:?}",
        bench.body()
    );
    bench.press(Key::Zero);
    bench.put(10.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::List(_)), "{:?}", bench.body());
}

#[test]
fn nothing_to_take_back_is_said() {
    let mut bench = Bench::new();
    bench.begin_pair();
    bench.hold(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::NothingToUndo));
}

#[test]
fn a_key_that_is_jammed_is_one_hold() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    bench.press(Key::Mark);
    bench.hold_for(Key::Mark, 30.0);
    assert_eq!(
        bench.app.book().ledger().steps().len(),
        1,
        "one mark is taken back, not all"
    );
}

#[test]
fn the_press_that_wakes_the_display_does_nothing_else() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    bench.wait(400.0);
    assert_eq!(bench.body(), Body::Dark);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Pan(_)));
    assert_eq!(bench.app.book().ledger().steps().len(), 1);
}

#[test]
fn what_is_refused_is_heard_too() {
    let mut bench = Bench::new();
    bench.begin_pair();
    bench.press(Key::Mark);
    assert!(bench.effects.contains(&Effect::Beep(Tone::Refused)));
}

#[test]
fn a_cake_ripped_back_onto_is_heavier_only_after_the_mark_is_taken_back() {
    let mut bench = Bench::weighed_in();
    bench.put(16.0);
    bench.press(Key::Mark);
    bench.hold(Key::Mark);
    bench.put(16.5);
    bench.press(Key::Mark);
    assert!(
        matches!(bench.notice(), Notice::Noted { used, .. } if (used.value.0 - 3_500).abs() < 50),
        "{:?}",
        bench.notice()
    );
}
