//! A mark that cannot be taken at once: what it waits for, what it takes then, and when it is given up.

use yarn_scale_core::app::Input;
use yarn_scale_core::board::Levels;
use yarn_scale_core::journal::Record;
use yarn_scale_core::screen::{Body, Notice, RefusedWord};
use yarn_scale_core::weighing::Condition;
use yarn_scale_tests::bench::{Bench, Key};

use crate::slips::one_cuff;

fn assert_weighed_in_twenty(bench: &Bench) {
    match bench.notice() {
        Notice::WeighedIn { weight, .. } => assert!((weight.value.0 - 20_000).abs() <= 20, "{weight:?}"),
        other => panic!("{other:?}"),
    }
}

fn wait_for_the_tick(bench: &mut Bench) {
    while bench.app.scale().steady().is_none() {
        bench.wait(0.1);
    }
}

#[test]
fn a_mark_before_the_reading_is_steady_is_taken_when_it_is() {
    let mut bench = Bench::with_pair();
    bench.shake(20.0, 0.5);
    bench.press(Key::Mark);
    assert!(
        matches!(bench.body(), Body::Pan(pan) if pan.mark_waits),
        "{:?}",
        bench.body()
    );
    bench.wait(4.0);
    assert!(
        matches!(bench.deeds().last(), Some(Record::WeighIn { .. })),
        "{:?}",
        bench.deeds()
    );
}

/// A spoilt word while the finger comes makes the mark wait until the load has stood again, though none settles then.
#[test]
fn a_mark_on_a_spoilt_word_is_taken_when_the_load_has_stood() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    bench.wait(1.0);
    bench.set(21.0);
    bench.wait(0.1);
    bench.hold_for(Key::Mark, 0.05);
    assert!(
        matches!(bench.body(), Body::Pan(pan) if pan.mark_waits),
        "{:?}",
        bench.body()
    );
    bench.set(20.0);
    bench.wait(1.2);
    assert_weighed_in_twenty(&bench);
}

/// No hand answers a tick in the same moment: such a press was made on trust, while a hand may only have paused.
#[test]
fn a_mark_before_the_tick_has_stood_takes_what_stays() {
    let mut bench = Bench::with_pair();
    bench.set(17.2);
    wait_for_the_tick(&mut bench);
    bench.hold_for(Key::Mark, 0.1);
    bench.set(20.0);
    bench.wait(2.0);
    assert_weighed_in_twenty(&bench);
}

/// She saw the tick and took the cake off again: what the tick stood for was meant, not the empty pan.
#[test]
fn a_load_taken_off_at_its_tick_is_still_noted() {
    let mut bench = Bench::at_the_tick(Bench::with_pair, 20.0);
    bench.set(0.0);
    bench.wait(2.0);
    assert_weighed_in_twenty(&bench);
}

/// A hand that lifts the pan while it lets go of the cake is no fault of the scale.
#[test]
fn a_mark_pressed_while_a_hand_lifts_the_pan_waits() {
    let mut bench = Bench::with_pair();
    bench.set(-8.0);
    bench.wait(1.0);
    assert_eq!(bench.app.scale().condition(), Condition::Underload);
    bench.hold_for(Key::Mark, 0.1);
    bench.set(20.0);
    bench.wait(2.0);
    assert_weighed_in_twenty(&bench);
}

#[test]
fn a_mark_while_the_pan_stays_lifted_is_given_up_aloud() {
    let mut bench = Bench::with_pair();
    bench.put(-8.0);
    bench.press(Key::Mark);
    bench.wait(16.0);
    assert!(
        matches!(bench.body(), Body::Notice(Notice::Refused(RefusedWord::Faulty))),
        "{:?}",
        bench.body()
    );
    assert_eq!(bench.deeds().len(), 1);
}

#[test]
fn a_mark_that_never_becomes_steady_is_given_up_aloud() {
    let mut bench = Bench::with_pair();
    bench.shake(20.0, 0.5);
    bench.press(Key::Mark);
    bench.shake(20.0, 16.0);
    assert!(
        matches!(bench.body(), Body::Notice(Notice::Refused(RefusedWord::NotSteady))),
        "{:?}",
        bench.body()
    );
    assert_eq!(bench.deeds().len(), 1);
}

/// She switches the scale on with the cake on it and presses at once: the mark waits for the first number.
#[test]
fn a_mark_while_the_scale_starts_is_taken_when_it_weighs() {
    let mut bench = Bench::just_on(Bench::with_pair().journal, 20.0);
    bench.wait(0.3);
    assert_eq!(bench.app.scale().condition(), Condition::Starting);
    bench.press(Key::Mark);
    assert_eq!(bench.app.scale().condition(), Condition::Starting);
    bench.wait(6.0);
    let weighed_in = |record: &Record| matches!(record, Record::WeighIn { .. });
    assert!(bench.deeds().iter().any(weighed_in), "{:?}", bench.body());
}

/// Until flash has answered, a computer on the line is told to wait: what it notes would come between the press and its record.
#[test]
fn a_scale_is_busy_until_its_mark_is_noted() {
    let mut bench = one_cuff();
    bench.put(30.0);
    for mark in [true, false] {
        for _ in 0..4 {
            bench.app.handle(
                bench.now(),
                Input::Keys(Levels {
                    mark,
                    ..Levels::default()
                }),
            );
            bench.pass(0.01);
        }
    }
    assert!(bench.app.is_busy(), "{:?}", bench.body());
    bench.tell(Input::Tick);
    assert!(matches!(bench.notice(), Notice::Noted { .. }));
    assert!(!bench.app.is_busy());
}
