//! How far? What is kept back: four rounds for the cast-off, the other sock's toe, half of the cake; and where the counting holds.

use yarn_scale_core::forecast::estimated;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::{Body, ItemLabel, Notice, RefusedWord, Value, Word};
use yarn_scale_core::sock::{SectionKind, Sock, YarnLetter};
use yarn_scale_tests::bench::{Bench, Key};

use crate::answers::labels;
use crate::several_pairs::{another, in_hand, list, mark};

const B: YarnLetter = YarnLetter::B;

/// With the page open: weighed at the first of these weights, five rounds knitted down to the second.
fn count(bench: &mut Bench, from: f64, to: f64) {
    bench.open(Word::HowFar);
    bench.put(from);
    bench.press(Key::Mark);
    bench.take();
    bench.put(to);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
}

/// The first cuff from 20 g of B: a round of 0.22 g, and 18.9 g on the pan.
fn counted() -> Bench {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    count(&mut bench, 20.0, 18.9);
    bench
}

fn likely(bench: &Bench, word: Word) -> u16 {
    match value(bench, word) {
        Value::Rounds(rounds) => rounds.likely,
        other => panic!("{other:?}"),
    }
}

fn value(bench: &Bench, word: Word) -> Value {
    let Body::List(list) = bench.body() else {
        panic!("no answer, but {:?}", bench.body())
    };
    let line = list.items.iter().find(|item| item.label == ItemLabel::Word(word));
    line.unwrap_or_else(|| panic!("no {word:?} in {list:?}")).value
}

fn each(bench: &Bench) -> Measured {
    match value(bench, Word::EachRound) {
        Value::Small(mass) => mass,
        other => panic!("{other:?}"),
    }
}

fn says(bench: &Bench) -> Word {
    match bench.body() {
        Body::Guide(guide) => guide.say,
        other => panic!("no guide, but {other:?}"),
    }
}

/// Does this with a line of the plan.
fn on_line(bench: &mut Bench, line: usize, deed: Word) {
    home(bench);
    bench.take();
    bench.open(Word::Plan);
    let selected = |bench: &Bench| match bench.body() {
        Body::Plan(plan) => usize::from(plan.selected),
        other => panic!("{other:?}"),
    };
    for _ in 0..bench.app.book().ledger().plan().lines.len() {
        if selected(bench) != line {
            bench.press(Key::Next);
        }
    }
    bench.press(Key::Mark);
    bench.choose(deed);
    home(bench);
}

fn home(bench: &mut Bench) {
    bench.wait(8.0);
    for _ in 0..5 {
        match bench.body() {
            Body::Pan(_) => return,
            // ZERO is for the next yarn there.
            Body::Answer(_) => bench.press(Key::Next),
            _ => bench.press(Key::Zero),
        }
    }
    panic!("{:?}", bench.body());
}

/// A mark of this line, and of no other that it could be.
fn mark_line(bench: &mut Bench, line: u8, grams: f64) {
    bench.put(grams);
    bench.press(Key::Mark);
    let is_it = |choice: &Choice| matches!(choice, Choice::Section { line: of, .. } if *of == line);
    if let Body::Question(asked) = bench.body() {
        let place = asked.choices.iter().position(is_it);
        (0..place.expect("it is offered")).for_each(|_| bench.press(Key::Next));
        bench.press(Key::Mark);
    }
    assert!(bench.app.book().ledger().is_done(line), "{:?}", bench.body());
    bench.take();
    bench.wait(8.0);
}

const WITH_TOE: [Word; 5] = [
    Word::BeforeCastOff,
    Word::BeforeToe,
    Word::BeforeHalf,
    Word::EachRound,
    Word::RoundsCounted,
];
const WITHOUT_TOE: [Word; 4] = [
    Word::BeforeCastOff,
    Word::BeforeHalf,
    Word::EachRound,
    Word::RoundsCounted,
];

/// 18.9 / 0.22 - 4 = 81.9 rounds; of half the cake (18.9 - 10) / 0.22 = 40.5.
#[test]
fn four_rounds_or_half_of_the_cake_are_kept_back() {
    let bench = counted();
    assert!((each(&bench).value.0 - 220).abs() < 3, "{:?}", each(&bench));
    assert_eq!(likely(&bench, Word::BeforeCastOff), 81);
    assert_eq!(likely(&bench, Word::BeforeHalf), 40);
}

/// The toe of sock 2 is worked in the same yarn: what it takes by the estimate, and a quarter over.
#[test]
fn what_the_other_toe_needs_is_kept_back_with_its_reserve() {
    let bench = counted();
    assert_eq!(labels(&bench), WITH_TOE.map(ItemLabel::Word));
    let ledger = bench.app.book().ledger();
    let is_toe = |line: &&_| {
        let &&yarn_scale_core::sock::Line { kind, sock, .. } = line;
        (kind, sock) == (SectionKind::Toe, Sock::Second)
    };
    let toe = ledger.plan().lines.iter().find(is_toe).expect("of the plan");
    let takes = f64::from(estimated(ledger, *toe).expect("a sock").0);
    let by_hand = (18_900.0 - 1.25 * takes) / 220.0;
    let said = f64::from(likely(&bench, Word::BeforeToe));
    assert!(
        (by_hand - 1.3..by_hand + 0.3).contains(&said),
        "{said}, by hand {by_hand}"
    );
}

#[test]
fn this_socks_toe_one_of_another_yarn_or_a_skipped_one_is_free() {
    for deed in [Word::SkipSection, Word::ChangeYarn] {
        let mut bench = counted();
        on_line(&mut bench, 9, deed);
        bench.open(Word::HowFar);
        assert_eq!(labels(&bench), WITHOUT_TOE.map(ItemLabel::Word), "{deed:?}");
    }
    // While the second sock's cuff is knitted it is the first one's.
    let mut bench = Bench::weighed_in();
    on_line(&mut bench, 9, Word::SkipSection);
    on_line(&mut bench, 5, Word::KnitThisNext);
    count(&mut bench, 20.0, 18.9);
    assert_eq!(labels(&bench), WITH_TOE.map(ItemLabel::Word));
}

#[test]
fn a_toe_that_is_knitted_is_not_kept_back() {
    let mut bench = Bench::weighed_in();
    on_line(&mut bench, 9, Word::KnitThisNext);
    mark_line(&mut bench, 9, 15.0);
    count(&mut bench, 15.0, 13.9);
    assert_eq!(labels(&bench), WITHOUT_TOE.map(ItemLabel::Word));
}

/// 15.0 / 0.22 - 4 = 64.2.
#[test]
fn the_answer_is_for_what_lies_on_the_pan() {
    let mut bench = counted();
    bench.take();
    assert_eq!(likely(&bench, Word::BeforeCastOff), 81, "as it was weighed last");
    bench.put(15.0);
    assert_eq!(likely(&bench, Word::BeforeCastOff), 64);
}

/// Five rounds of the cuff, then the heel of the same yarn is marked, then five more of the cuff: the heel's 7 g are of no round.
#[test]
fn what_a_section_between_took_is_in_no_round() {
    let mut bench = counted();
    on_line(&mut bench, 2, Word::KnitThisNext);
    mark_line(&mut bench, 2, 13.0);
    on_line(&mut bench, 0, Word::KnitThisNext);
    bench.open(Word::HowFar);
    bench.put(11.9);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    assert_eq!(value(&bench, Word::RoundsCounted), Value::Number(10));
    assert!((each(&bench).value.0 - 220).abs() < 4, "{:?}", each(&bench));
}

#[test]
fn each_pair_has_its_own_rounds_and_keeps_them() {
    let mut bench = counted();
    let before = each(&bench);
    bench.press(Key::Zero);
    bench.take();
    another(&mut bench);
    mark(&mut bench, 60.0);
    bench.open(Word::HowFar);
    assert_eq!(says(&bench), Word::HowFarBegin);
    bench.press(Key::Zero);
    list(&mut bench);
    bench.press(Key::Mark);
    assert_eq!(in_hand(&bench), 1);
    bench.open(Word::HowFar);
    assert_eq!(each(&bench), before);
}

/// No cuff takes 30 g, four times what one usually does.
#[test]
fn a_far_lighter_cake_is_another_one() {
    let mut bench = Bench::with_pair();
    mark(&mut bench, 90.0);
    bench.open(Word::HowFar);
    bench.put(90.0);
    bench.press(Key::Mark);
    assert_eq!(says(&bench), Word::HowFarKnit);
    bench.take();
    bench.put(60.0);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::OtherCake));
}

#[test]
fn the_bowl_is_no_yarn_of_the_rounds() {
    let mut bench = Bench::weighed_in();
    bench.wait(8.0);
    bench.put(60.0);
    bench.press(Key::Zero);
    bench.press(Key::Mark);
    bench.press(Key::Zero);
    count(&mut bench, 80.0, 78.9);
    assert!((each(&bench).value.0 - 220).abs() < 3, "{:?}", each(&bench));
    let left = bench.app.book().ledger().counted(0, B).last().expect("counted").weight;
    assert!(
        (left.net.value.0 - 18_900).abs() < 50 && left.bowl.is_some(),
        "{left:?}"
    );
}
