//! Bowls: which line comes first, another number, tared again, forgotten.

use yarn_scale_core::screen::{ItemLabel, Word};
use yarn_scale_core::sock::BowlNumber;
use yarn_scale_tests::bench::{Bench, Key};

use crate::answers::labels;

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
