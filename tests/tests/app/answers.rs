//! The smaller answers and pages, met with the wrong thing in hand, or with one press too many.

use yarn_scale_core::forecast::Winding;
use yarn_scale_core::journal::{Language, Record, Setting};
use yarn_scale_core::screen::{Body, FaultWord, ItemLabel, Notice, RefusedWord, SIGNS_VISIBLE, Sign, Value, Word};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::bench::{Bench, Key};

pub(crate) fn labels(bench: &Bench) -> Vec<ItemLabel> {
    match bench.body() {
        Body::List(list) => list.items.iter().map(|item| item.label).collect(),
        other => panic!("no list, but {other:?}"),
    }
}

#[test]
fn an_empty_pan_is_not_halved_and_mark_notes_nothing_at_the_end() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.open(Word::Halve);
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::EmptyPan));
    bench.press(Key::Mark);
    bench.put(20.0);
    bench.press(Key::Mark);
    bench.put(10.0);
    let Body::Halve(halve) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(
        halve.to_go.is_some_and(|to_go| to_go.abs() < Milligrams(100)),
        "{halve:?}"
    );
    let before = bench.deeds();
    bench.press(Key::Mark);
    bench.hold(Key::Mark);
    assert_eq!(bench.deeds(), before);
}

/// The cake is halved to a weight at which a mark would be noted without a word.
#[test]
fn mark_at_the_end_of_halving_notes_nothing() {
    let mut bench = Bench::with_pair();
    bench.put(10.0);
    bench.press(Key::Mark);
    bench.wait(8.0);
    bench.open(Word::Halve);
    bench.press(Key::Mark);
    bench.put(5.0);
    let Body::Halve(halve) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert_eq!(halve.winding, Winding::Stop);
    let before = bench.deeds();
    bench.press(Key::Mark);
    bench.hold(Key::Mark);
    assert_eq!(bench.deeds(), before);
    bench.press(Key::Zero);
    bench.press(Key::Mark);
    assert!(
        bench.deeds().len() > before.len(),
        "at home the same press notes the cuff"
    );
}

/// The best use stands alone; NEXT shows the next best, and the list goes on from the one that was shown.
#[test]
fn uses_of_a_leftover_are_gone_through_both_ways() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.put(20.0);
    bench.open(Word::WillItDo);
    let place = |bench: &Bench| match bench.body() {
        Body::Answer(page) => page.place.0,
        other => panic!("{other:?}"),
    };
    assert_eq!(place(&bench), 1);
    bench.press(Key::Next);
    bench.press(Key::Next);
    assert_eq!(place(&bench), 3);
    bench.press(Key::Mark);
    assert!(matches!(bench.body(), Body::Uses(uses) if uses.selected == 2));
    bench.hold_for(Key::Zero, 0.85);
    bench.press(Key::Mark);
    assert_eq!(place(&bench), 2, "one up");
}

#[test]
fn the_control_skein_is_asked_for_before_it_is_taken() {
    let mut bench = Bench::weighed_in();
    bench.put(20.0);
    bench.open(Word::ControlSkein);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    let taken = |bench: &Bench| bench.deeds().iter().any(|deed| matches!(deed, Record::Control { .. }));
    assert!(!taken(&bench), "the first choice does no harm");
    bench.take();
    bench.put(12.0);
    bench.press(Key::Mark);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    assert!(taken(&bench));
    assert!(matches!(bench.body(), Body::Pan(_)));
}

#[test]
fn all_signs_are_explained() {
    let mut bench = Bench::weighed_in();
    bench.open(Word::Signs);
    for row in 1..=Sign::ALL.len() - SIGNS_VISIBLE {
        bench.press(Key::Next);
        assert_eq!(bench.body(), Body::Signs(u8::try_from(row).unwrap()));
    }
    bench.hold_for(Key::Zero, 3.0);
    assert_eq!(bench.body(), Body::Signs(0));
}

#[test]
fn a_finger_on_zero_is_told_about_zero() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.shake(0.1, 0.6);
    bench.press(Key::Zero);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::ZeroNotSteady));
}

#[test]
fn a_yarn_that_will_likely_be_short_says_so_at_its_weigh_in() {
    let missing = |grams| {
        let mut bench = Bench::with_pair();
        bench.put(grams);
        bench.press(Key::Mark);
        match bench.notice() {
            Notice::WeighedIn { short, .. } => short,
            other => panic!("{other:?}"),
        }
    };
    // Cuffs, heels and toes of two socks take far more by the estimate.
    assert!(missing(12.0).is_some_and(|missing| missing > Milligrams(3_000)));
    assert_eq!(missing(80.0), None);
}

#[test]
fn a_yarn_that_was_not_weighed_in_is_said_to_be_that() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.press(Key::Next);
    bench.press(Key::Next);
    let weighed_in = |bench: &Bench| match bench.body() {
        Body::Answer(page) => (page.weighed_in, page.answer.is_some()),
        other => panic!("{other:?}"),
    };
    assert_eq!(weighed_in(&bench), (true, true));
    bench.press(Key::Zero);
    assert_eq!(
        weighed_in(&bench),
        (false, true),
        "A: what it needs is said all the same"
    );
}

#[test]
fn a_lift_takes_the_number_at_once_and_the_page_only_when_it_stands() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    let fault = |bench: &Bench| matches!(bench.body(), Body::Fault(FaultWord::Underload));
    let number = |bench: &Bench| match bench.body() {
        Body::Pan(pan) => pan.shown,
        _ => None,
    };
    bench.set(-50.0);
    let mut gone = false;
    for _ in 0..15 {
        bench.wait(0.1);
        assert!(!fault(&bench));
        gone |= number(&bench).is_none();
    }
    assert!(gone, "no number while the pan is lifted");
    bench.set(0.0);
    bench.wait(4.0);
    assert!(number(&bench).is_some());
    bench.set(-50.0);
    bench.wait(4.0);
    assert!(fault(&bench), "a pan that stays lifted is a fault");
}

#[test]
fn the_language_is_asked_first_and_once() {
    let mut bench = Bench::blank();
    assert_eq!(labels(&bench), [ItemLabel::Name("English"), ItemLabel::Name("Deutsch")]);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    assert_eq!(bench.app.view().language, Language::German);
    assert!(bench.deeds().contains(&Record::Setting(Setting::LanguageAsked(true))));
    assert!(matches!(bench.body(), Body::Fault(FaultWord::Uncalibrated)));
    let journal = bench.journal.clone();
    let again = Bench::uncalibrated_with(journal);
    assert!(
        matches!(again.body(), Body::Fault(FaultWord::Uncalibrated)),
        "not again"
    );
    assert_eq!(again.app.view().language, Language::German);
    // Left unanswered, it is asked at the next start.
    let mut bench = Bench::blank();
    bench.press(Key::Zero);
    assert!(matches!(bench.body(), Body::Fault(FaultWord::Uncalibrated)));
    let again = Bench::uncalibrated_with(bench.journal.clone());
    assert!(matches!(again.body(), Body::List(_)));
}

/// The empty pan after the first weight shows that zero had moved: the yarn "has", it does not "use".
#[test]
fn a_corrected_first_weight_says_what_the_yarn_has() {
    let mut bench = Bench::with_pair();
    bench.put(19.96);
    bench.press(Key::Mark);
    bench.wait(20.0);
    bench.views.clear();
    bench.put(0.03);
    let said = bench.views.iter().any(|view| {
        matches!(
            view.body,
            Body::Notice(Notice::WeightAmended {
                yarn: YarnLetter::B,
                ..
            })
        )
    });
    let used = bench
        .views
        .iter()
        .any(|view| matches!(view.body, Body::Notice(Notice::Amended { .. })));
    assert!(said && !used, "{:?}", bench.deeds());
}

#[test]
fn half_a_stitch_can_be_set_in_the_gauge() {
    let mut bench = Bench::weighed_in();
    bench.open(Word::Estimate);
    bench.press(Key::Next);
    bench.press(Key::Mark);
    bench.press(Key::Next);
    let Body::Edit(edit) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert_eq!(edit.value, Value::Halves(61));
}
