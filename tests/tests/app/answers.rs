//! The smaller answers and pages, met with the wrong thing in hand, or with one press too many.

use yarn_scale_core::forecast::drying::DryWord;
use yarn_scale_core::forecast::halving::Winding;
use yarn_scale_core::journal::{Language, Record, Setting};
use yarn_scale_core::screen::{Body, FaultWord, ItemLabel, Notice, RefusedWord, SIGNS_VISIBLE, Sign, Value, Word};
use yarn_scale_core::sock::{BowlNumber, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::bench::{Bench, Key};

fn says(bench: &Bench) -> Word {
    match bench.body() {
        Body::Guide(guide) => guide.say,
        other => panic!("no guide, but {other:?}"),
    }
}

fn labels(bench: &Bench) -> Vec<ItemLabel> {
    match bench.body() {
        Body::List(list) => list.items.iter().map(|item| item.label).collect(),
        other => panic!("no list, but {other:?}"),
    }
}

/// One sock in one yarn, all five sections marked, the cake 50 g at first and 14 g in the end; the sock weighs 36 g.
fn finished() -> Bench {
    finished_from(50.0)
}

/// The same from a cake of another weight.
fn finished_from(whole: f64) -> Bench {
    let mut bench = Bench::new();
    bench.open(Word::NewPair);
    bench.choose(Word::OneYarn);
    bench.choose(Word::OneSock);
    bench.put(whole);
    bench.press(Key::Mark);
    for used in [4.0, 17.0, 24.0, 31.0, 36.0] {
        bench.take();
        bench.put(whole - used);
        bench.press(Key::Mark);
        if let Body::Question(_) = bench.body() {
            bench.press(Key::Next);
            bench.press(Key::Mark);
        }
    }
    bench.take();
    bench.wait(8.0);
    assert_eq!(bench.app.book().ledger().cursor(), None, "all is marked");
    assert!(matches!(bench.body(), Body::PairSummary(_)), "{:?}", bench.body());
    bench.press(Key::Mark);
    bench
}

#[test]
fn without_a_mark_there_is_nothing_to_compare_a_pair_with() {
    for page in [Word::PairCheck, Word::DryYet] {
        let mut bench = Bench::weighed_in();
        bench.wait(8.0);
        bench.put(36.0);
        bench.open(page);
        assert_eq!(says(&bench), Word::NothingToCompare, "{page:?}");
    }
}

#[test]
fn a_cake_that_lies_on_the_pan_is_no_pair_that_dries() {
    let mut bench = finished();
    // The cake as it was marked last.
    bench.put(14.0);
    bench.open(Word::DryYet);
    assert_eq!(says(&bench), Word::PutPairOn);
    bench.press(Key::Zero);
    bench.take();
    // The sock, wet.
    bench.put(50.2);
    bench.open(Word::DryYet);
    // The cake has weighed 50, 46 and 33 g, and so has no pair: of this one it is the first weight.
    assert_eq!(dry_word(&bench), DryWord::WeighAgain);
}

fn dry_word(bench: &Bench) -> DryWord {
    match bench.body() {
        Body::Dry(dryness) => dryness.word,
        other => panic!("{other:?}"),
    }
}

/// What is left of the cake weighs nearly what the sock does, and lies still: it is not the sock.
#[test]
fn a_cake_as_heavy_as_the_pair_is_no_pair() {
    for page in [Word::PairCheck, Word::DryYet] {
        let mut bench = finished_from(80.0);
        bench.put(44.0);
        bench.open(page);
        assert_eq!(says(&bench), Word::PutPairOn, "{page:?}");
    }
}

/// Earlier weights of the cake are none of the pair's, though a pair could weigh as much: 33 g before, 45 g now is no pair that dries.
#[test]
fn only_the_pairs_own_weights_tell_whether_it_dries() {
    let mut bench = finished();
    bench.put(48.0);
    bench.open(Word::DryYet);
    assert_eq!(dry_word(&bench), DryWord::WeighAgain);
    bench.press(Key::Zero);
    bench.take();
    bench.put(45.0);
    bench.open(Word::DryYet);
    assert_eq!(dry_word(&bench), DryWord::Drying, "its own second weight");
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

/// Bowl 1 of 60 g, known and in use.
fn with_bowl() -> Bench {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.put(60.0);
    bench.press(Key::Zero);
    assert_eq!(
        labels(&bench)[0],
        ItemLabel::NewBowl(BowlNumber(1)),
        "nothing known fits"
    );
    bench.press(Key::Mark);
    bench.press(Key::Zero);
    bench
}

#[test]
fn a_new_bowl_is_not_the_first_line_where_a_known_one_fits() {
    let mut bench = with_bowl();
    bench.take();
    bench.put(60.1);
    bench.hold(Key::Zero);
    assert_eq!(labels(&bench)[0], ItemLabel::Bowl(BowlNumber(1)));
    // Lighter than any that is known: it is a new one.
    bench.press(Key::Zero);
    bench.take();
    bench.put(30.0);
    bench.hold(Key::Zero);
    assert_eq!(labels(&bench)[0], ItemLabel::NewBowl(BowlNumber(2)));
}

#[test]
fn a_bowl_gets_another_number_is_tared_again_and_forgotten() {
    let mut bench = with_bowl();
    let change = |bench: &mut Bench, deed| {
        bench.hold(Key::Zero);
        bench.choose(Word::BowlsChange);
        bench.press(Key::Mark);
        bench.choose(deed);
    };
    let bowls = |bench: &Bench| {
        bench
            .app
            .book()
            .bowls()
            .all()
            .map(|(number, mass)| (number.0, mass.value.0 / 100))
            .collect::<Vec<_>>()
    };
    assert_eq!(bowls(&bench), [(1, 600)]);
    // 2 to 9 are free; the first of them.
    change(&mut bench, Word::BowlOtherNumber);
    assert_eq!(bowls(&bench), [(2, 600)]);
    assert_eq!(
        bench.app.book().bowls().in_use(),
        Some(BowlNumber(2)),
        "it is still in use"
    );
    bench.press(Key::Mark);
    bench.put(61.05);
    change(&mut bench, Word::BowlTareAgain);
    assert_eq!(bowls(&bench), [(2, 610)]);
    bench.press(Key::Mark);
    change(&mut bench, Word::BowlForget);
    assert_eq!(bowls(&bench), []);
    let bench = bench.power_cycle();
    assert_eq!(bowls(&bench), [], "for good");
    assert_eq!(bench.app.book().bowls().in_use(), None);
}

/// A cake weighed in a bowl whose number another bowl has now cannot be offered as an earlier weighing: its mass is not known any more.
#[test]
fn what_was_weighed_in_a_forgotten_bowl_is_not_offered() {
    let mut bench = with_bowl();
    bench.put(78.0);
    bench.wait(2.0);
    let in_bowl = |bench: &Bench| {
        bench
            .app
            .book()
            .visits()
            .oldest_first()
            .filter(|visit| visit.bowl.is_some())
            .count()
    };
    assert!(in_bowl(&bench) > 0);
    bench.hold(Key::Zero);
    bench.choose(Word::BowlsChange);
    bench.press(Key::Mark);
    bench.choose(Word::BowlForget);
    assert_eq!(in_bowl(&bench), 0);
    let bench = bench.power_cycle();
    assert_eq!(in_bowl(&bench), 0, "nor after a restart");
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
