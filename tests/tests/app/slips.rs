//! Slips at the keys, one by one: each is asked about, one more press of MARK does nothing, and the right answer is there with its amount.
//! Cuffs are knitted both at a time from B: cuff 1 took 5 g, so that cuff 2 is known.

use yarn_scale_core::journal::{PairEvent, Record};
use yarn_scale_core::recognise::{Choice, WhyAsked};
use yarn_scale_core::screen::{Body, ItemLabel, Notice, Question, Value, Word};
use yarn_scale_core::sock::{SectionKind, Sock, YarnLetter};
use yarn_scale_core::units::Milligrams;
use yarn_scale_tests::bench::{Bench, Key};

const A: YarnLetter = YarnLetter::A;
const B: YarnLetter = YarnLetter::B;

/// B was 40 g and is 35 g; cuff 2 comes next.
pub(crate) fn one_cuff() -> Bench {
    let mut bench = Bench::new();
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    // Both at a time: the second order.
    bench.press(Key::Next);
    bench.press(Key::Mark);
    bench.put(40.0);
    bench.press(Key::Mark);
    bench.take();
    bench.put(35.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Noted { .. }), "{:?}", bench.body());
    bench.take();
    bench
}

pub(crate) fn question(bench: &Bench) -> Question {
    match bench.body() {
        Body::Question(question) => question,
        other => panic!("no question, but {other:?}"),
    }
}

fn near(mass: Milligrams, grams: f64) -> bool {
    (f64::from(mass.0) / 1_000.0 - grams).abs() < 0.1
}

/// The scale asks; one more press of MARK changes nothing; the choice that is wanted stands second or third.
#[track_caller]
fn asks_and_offers(bench: &mut Bench, wanted: impl Fn(&Choice) -> bool) -> Question {
    let before = bench.deeds().len();
    bench.press(Key::Mark);
    let asked = question(bench);
    assert_eq!(asked.choices.first(), Some(&Choice::NotNow));
    let place = asked.choices.iter().position(wanted);
    assert!(matches!(place, Some(0..=2)), "{asked:?}");
    bench.press(Key::Mark);
    assert_eq!(bench.deeds().len(), before, "one more press is harmless");
    asked
}

/// Chooses an answer of the question that is open.
fn answer(bench: &mut Bench, asked: &Question, wanted: impl Fn(&Choice) -> bool) {
    let place = asked.choices.iter().position(wanted).expect("it is offered");
    for _ in 0..place {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
}

#[test]
fn the_right_press_is_noted_without_a_word() {
    let mut bench = one_cuff();
    bench.put(29.8);
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Noted { line, .. } if line.sock == Sock::Second));
}

/// From the end of a leftover to a cone: a first weight is a first weight, and there is nothing to compare it with.
#[test]
fn a_first_weight_of_any_size_is_weighed_in_without_a_word() {
    for grams in [0.6, 1.2, 24.0, 103.0, 200.0, 420.0] {
        let mut bench = Bench::new();
        bench.press(Key::Mark);
        bench.press(Key::Mark);
        bench.press(Key::Mark);
        bench.put(grams);
        bench.press(Key::Mark);
        assert!(
            matches!(bench.notice(), Notice::WeighedIn { .. }),
            "{grams} g: {:?}",
            bench.body()
        );
    }
}

#[test]
fn a_leftover_that_nobody_knows() {
    let mut bench = one_cuff();
    bench.put(12.0);
    let asked = asks_and_offers(&mut bench, |choice| *choice == Choice::WeighIn(A));
    let WhyAsked::Amount { used, expected, .. } = asked.why else {
        panic!("{asked:?}")
    };
    assert!(near(used, 23.0) && near(expected, 5.0), "{asked:?}");
}

#[test]
fn a_mark_forgotten_is_made_good_on_its_own_visit() {
    let mut bench = one_cuff();
    // The second cuff lay there, and MARK was not pressed; then the first heel, 7 g.
    bench.put(30.0);
    bench.take();
    bench.put(23.0);
    let both = |choice: &Choice| matches!(choice, Choice::Both(_));
    let asked = asks_and_offers(&mut bench, both);
    bench.press(Key::Mark);
    answer(&mut bench, &asked, both);
    let ledger = bench.app.book().ledger();
    let used = |line| ledger.used(line).expect("it is marked").value;
    let heel = ledger
        .plan()
        .lines
        .iter()
        .position(|line| line.kind == SectionKind::Heel);
    assert!(near(used(1), 5.0), "{:?}", used(1));
    assert!(near(used(heel.expect("a heel") as u8), 7.0));
}

#[test]
fn too_early() {
    let mut bench = one_cuff();
    for grams in [33.3, 34.7] {
        bench.put(grams);
        asks_and_offers(&mut bench, |choice| *choice == Choice::NotNow);
        bench.take();
    }
}

#[test]
fn mark_four_times_is_one_mark() {
    let mut bench = one_cuff();
    bench.put(30.0);
    let before = bench.app.book().ledger().steps().len();
    for _ in 0..8 {
        bench.press(Key::Mark);
        bench.wait(0.5);
    }
    assert_eq!(bench.app.book().ledger().steps().len(), before + 1);
}

#[test]
fn a_yarn_that_weighs_what_it_weighed_is_offered_as_just_that() {
    let mut bench = one_cuff();
    bench.put(35.0);
    let asked = asks_and_offers(&mut bench, |choice| *choice == Choice::NothingUsed(B));
    assert_eq!(asked.why, WhyAsked::Unchanged { yarn: B });
    let nothing = |choice: &Choice| matches!(choice, Choice::StartFromHere { unplanned, .. } if near(*unplanned, 0.0));
    assert!(!asked.choices.iter().any(nothing), "0.0 g is no amount: {asked:?}");
    bench.press(Key::Mark);
    bench.press(Key::Next);
    let before = bench.deeds().len();
    bench.press(Key::Mark);
    assert_eq!((bench.deeds().len(), bench.body() == Body::Dark), (before, false));
    assert!(matches!(bench.body(), Body::Pan(_)));
}

#[test]
fn a_bowl_that_nobody_tared() {
    let mut bench = one_cuff();
    bench.put(130.0);
    let asked = asks_and_offers(&mut bench, |choice| *choice == Choice::NotNow);
    assert!(matches!(asked.why, WhyAsked::Heavier { .. }), "{asked:?}");
}

#[test]
fn a_question_goes_with_its_load() {
    let mut bench = one_cuff();
    bench.put(12.0);
    bench.press(Key::Mark);
    assert!(near(question(&bench).weight.expect("the load's"), 12.0));
    bench.take();
    assert!(matches!(bench.body(), Body::Pan(_)), "{:?}", bench.body());
    bench.put(12.0);
    bench.press(Key::Mark);
    question(&bench);
    bench.put(30.0);
    assert!(matches!(bench.body(), Body::Pan(_)), "{:?}", bench.body());
}

#[test]
fn eleven_holds_take_two_marks_back_and_no_more() {
    let mut bench = one_cuff();
    bench.put(30.0);
    bench.press(Key::Mark);
    bench.take();
    assert_eq!(bench.app.book().ledger().steps().len(), 3);
    for _ in 0..11 {
        bench.hold(Key::Mark);
        bench.wait(0.5);
    }
    assert_eq!(bench.app.book().ledger().steps().len(), 1);
    let taken_back = bench
        .deeds()
        .iter()
        .filter(|deed| matches!(deed, Record::Undone { .. }))
        .count();
    assert_eq!(taken_back, 2);
    // Asked, a third one goes too.
    let asked = question(&bench);
    assert_eq!(asked.why, WhyAsked::TakeBackMore { count: 2 });
    bench.press(Key::Next);
    bench.press(Key::Mark);
    assert!(bench.app.book().ledger().steps().is_empty());
}

#[test]
fn home_shows_what_the_other_sock_took() {
    let mut bench = one_cuff();
    bench.put(32.0);
    let Body::Pan(pan) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(
        matches!(pan.other_sock, Some((Sock::First, mass)) if near(mass, 5.0)),
        "{pan:?}"
    );
    assert!(pan.used.is_some_and(|used| near(used.value, 3.0)), "{pan:?}");
}

/// Three marks of B, 5, 5 and 7 g: the middle one goes, and the next has both.
fn three_marks() -> Bench {
    let mut bench = one_cuff();
    bench.put(30.0);
    bench.press(Key::Mark);
    bench.take();
    bench.put(100.0);
    bench.press(Key::Mark);
    bench.take();
    for grams in [85.0, 70.0] {
        bench.put(grams);
        bench.press(Key::Mark);
        bench.take();
    }
    bench.put(23.0);
    bench.press(Key::Mark);
    bench.take();
    assert_eq!(bench.app.book().ledger().steps().len(), 7, "{:?}", bench.body());
    bench
}

fn open_line(bench: &mut Bench, line: u8, word: Word) {
    bench.open(Word::Plan);
    loop {
        let Body::Plan(plan) = bench.body() else {
            panic!("{:?}", bench.body())
        };
        if plan.selected == line {
            break;
        }
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    bench.choose(word);
}

#[test]
fn any_mark_can_be_taken_back_and_what_changes_is_shown_before() {
    let mut bench = three_marks();
    let cursor = bench.app.book().ledger().cursor();
    open_line(&mut bench, 1, Word::TakeMarkBack);
    let Body::List(list) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    let changes: Vec<(ItemLabel, Value)> = list.items.iter().map(|item| (item.label, item.value)).collect();
    assert!(
        matches!(
            changes.as_slice(),
            [
                (ItemLabel::Section(SectionKind::Cuff, Sock::Second), Value::Change(Some(cuff), None)),
                (ItemLabel::Section(SectionKind::Heel, Sock::First), Value::Change(Some(before), Some(after))),
            ] if near(*cuff, 5.0) && near(*before, 7.0) && near(*after, 12.0)
        ),
        "{changes:?}"
    );
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Undone { line: Some(line) } if line.kind == SectionKind::Cuff));
    let ledger = bench.app.book().ledger();
    assert_eq!(ledger.cursor(), cursor, "the cursor stays where it is");
    assert!(!ledger.is_done(1));
    let account = ledger.account(B);
    assert_eq!(account.weighed_in, account.used + account.unplanned + account.left);
    assert!(matches!(
        bench.journal.last().map(|entry| &entry.record),
        Some(Record::OfPair {
            event: PairEvent::TakenBack { .. },
            ..
        })
    ));
}

#[test]
fn a_mark_can_be_given_to_another_section() {
    let mut bench = three_marks();
    open_line(&mut bench, 1, Word::MoveMark);
    // The first open section is the second heel.
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    let ledger = bench.app.book().ledger();
    let heel = ledger
        .plan()
        .lines
        .iter()
        .rposition(|line| line.kind == SectionKind::Heel);
    let used = ledger.used(heel.expect("a heel") as u8).expect("it is marked");
    assert!(near(used.value, 5.0));
    assert!(!ledger.is_done(1));
}

#[test]
fn marked_visits_and_those_of_other_yarns_are_not_offered() {
    let mut bench = three_marks();
    // A visit of A between its marks, and none of B.
    open_line(&mut bench, 1, Word::ForgottenMark);
    let Body::List(list) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(list.items.is_empty(), "{list:?}");
}

/// Both hang on the sock where colours change. What is too much on the pan is the other cake, not yarn that was put back.
#[test]
fn two_cakes_are_no_yarn_that_was_ripped_back() {
    let mut bench = three_marks();
    // Heel 2 comes next, of B: it took 7 g, and A lies beside it.
    bench.put(16.0 + 70.0);
    let asked = asks_and_offers(&mut bench, |choice| *choice == Choice::NothingUsed(B));
    assert_eq!(asked.why, WhyAsked::TwoCakes);
    let back = asked
        .choices
        .iter()
        .position(|choice| matches!(choice, Choice::StartFromHere { .. }));
    assert!(back > Some(1), "{asked:?}");
}

/// The heel was marked before the leg: the plan goes on behind it, but the leg is not forgotten.
#[test]
fn a_section_that_was_left_for_later_is_offered_when_it_comes() {
    let mut bench = Bench::new();
    bench.begin_pair();
    for grams in [40.0, 35.0, 100.0] {
        bench.put(grams);
        bench.press(Key::Mark);
        bench.take();
    }
    open_line(&mut bench, 2, Word::KnitThisNext);
    bench.press(Key::Zero);
    bench.put(28.0);
    bench.press(Key::Mark);
    bench.take();
    let ledger = bench.app.book().ledger();
    assert!(ledger.is_done(2) && !ledger.is_done(1), "{:?}", bench.body());
    assert_eq!(ledger.cursor(), Some(3), "the foot, of the leg's yarn");
    bench.put(85.8);
    let leg = |choice: &Choice| matches!(choice, Choice::Section { line: 1, used, .. } if near(*used, 14.2));
    let asked = asks_and_offers(&mut bench, leg);
    bench.press(Key::Mark);
    answer(&mut bench, &asked, leg);
    let ledger = bench.app.book().ledger();
    assert!(ledger.is_done(1) && !ledger.is_done(3), "{:?}", bench.body());
}
