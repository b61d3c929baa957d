//! A pair holds 96 weights: what does not fit any more is told at the press, and nothing is noted.

use yarn_scale_core::journal::{Entry, PairEvent, Record, Sequence};
use yarn_scale_core::ledger::MAX_STEPS;
use yarn_scale_core::recognise::Choice;
use yarn_scale_core::screen::{Body, Notice, RefusedWord};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_tests::bench::{Bench, Key};

use crate::several_pairs::{another, in_hand};
use crate::slips::question;

/// Yarn B of pair 1 was weighed again and again, nothing knitted, until so many weights were there.
fn weighed(times: usize) -> Bench {
    let mut bench = Bench::weighed_in();
    let last = bench.app.book().ledger().last(YarnLetter::B);
    let weight = last.expect("weighed in").weight;
    let stamp = bench.journal.last().expect("a record").at;
    for _ in 1..times {
        let sequence = Sequence(bench.journal.last().expect("a record").sequence.0 + 1);
        let event = PairEvent::Unplanned {
            yarn: YarnLetter::B,
            weight,
        };
        bench.journal.push(Entry {
            sequence,
            at: stamp,
            record: Record::OfPair { pair: 1, event },
        });
    }
    bench.power_cycle()
}

#[test]
fn the_weight_after_the_last_place_is_refused_and_room_can_be_made() {
    let mut bench = weighed(MAX_STEPS);
    let deeds = bench.deeds();
    bench.put(16.0);
    bench.press(Key::Mark);
    assert_eq!(bench.notice(), Notice::Refused(RefusedWord::PairFull));
    assert_eq!(bench.deeds(), deeds);
    // The last one taken back leaves its place.
    bench.take();
    bench.wait(7.0);
    bench.hold(Key::Mark);
    bench.wait(7.0);
    bench.put(16.0);
    bench.press(Key::Mark);
    assert!(matches!(bench.notice(), Notice::Noted { .. }), "{:?}", bench.body());
}

/// It would take a place in either pair.
#[test]
fn a_yarn_of_a_full_pair_does_not_go_on_in_another() {
    let mut bench = weighed(MAX_STEPS);
    another(&mut bench);
    assert_eq!(in_hand(&bench), 2);
    bench.put(20.0);
    bench.press(Key::Mark);
    let goes_on = |choice: &Choice| matches!(choice, Choice::GoesOn { from: 1, .. });
    let place = question(&bench)
        .choices
        .iter()
        .position(goes_on)
        .expect("it is offered");
    let deeds = bench.deeds();
    for _ in 0..place {
        bench.press(Key::Next);
    }
    bench.press(Key::Mark);
    assert!(
        matches!(bench.body(), Body::Notice(Notice::Refused(RefusedWord::PairFull))),
        "{:?}",
        bench.body()
    );
    assert_eq!(bench.deeds(), deeds);
}
