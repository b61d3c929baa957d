//! What goes from a cake between two weighings of one stay on the pan: both stand on one zero, so that where that is does not matter,
//! and it is known far better than either weight.

use yarn_scale_core::journal::{Record, Sequence};
use yarn_scale_core::ledger::{ApplyFault, Ledger};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{Body, Notice, Word};
use yarn_scale_core::sock::{Weight, YarnLetter};
use yarn_scale_core::units::{Instant, Milligrams, Stamp};
use yarn_scale_core::weighing::{Indication, Unit};
use yarn_scale_tests::bench::{Bench, Key};
use yarn_scale_tests::cell::{Cell, PER_GRAM};
use yarn_scale_tests::knitting;
use yarn_scale_tests::told::{Told, exactly};

const A: YarnLetter = YarnLetter::A;

fn shared_zero_mark(told: &mut Told, line: u8, mg: i32, used_u: f32) -> Result<(), ApplyFault> {
    told.tell(Record::SharedZeroMark {
        line,
        yarn: A,
        weight: knitting::weight(mg),
        used_u,
    })
}

/// Weighed in, record 2, and marked in the same stay, record 3: weights of 31.5 mg each, 12 mg between them.
fn one_stay() -> Told {
    let mut told = Told::begun();
    let weight = knitting::weight(100_000);
    told.tell(Record::WeighIn { yarn: A, weight }).expect("a first weight");
    shared_zero_mark(&mut told, 1, 95_000, 12.0).expect("a mark");
    told
}

fn assert_u(ledger: &Ledger, place: usize, by_hand: f32) {
    let u = ledger.used_at(place).expect("a mark").u;
    assert!((u - by_hand).abs() < 0.02, "{u} mg, by hand {by_hand} mg");
}

#[test]
fn what_went_in_a_stay_has_its_own_uncertainty() {
    let told = one_stay();
    assert_u(&told.ledger, 1, 12.0);
    assert_eq!(told.ledger.used_at(1).map(|went| went.value), Some(Milligrams(5_000)));
    // The weights keep theirs.
    assert_eq!(told.ledger.steps()[1].weight, knitting::weight(95_000));
    assert!(told.ledger.is_done(1), "its section is closed");
}

#[test]
fn a_mark_of_a_stay_is_refused_where_a_mark_is() {
    let mut told = Told::begun();
    assert_eq!(
        shared_zero_mark(&mut told, 1, 95_000, 12.0),
        Err(ApplyFault::NotWeighedIn)
    );
    let mut told = one_stay();
    assert_eq!(
        shared_zero_mark(&mut told, 99, 90_000, 12.0),
        Err(ApplyFault::NoSuchLine)
    );
    assert_eq!(told.ledger.steps().len(), 2);
}

/// It is said of two weights. With another between them, or without the first, it says nothing of what is compared: 31.5 √2 = 44.55 mg.
#[test]
fn it_counts_only_between_the_two_weights_it_was_said_of() {
    let mut told = one_stay();
    told.tell(Record::LateMark {
        line: 1,
        yarn: A,
        weight: knitting::weight(98_000),
        visited: Stamp(10),
        before: Some((Sequence(3), 3)),
    })
    .expect("a forgotten mark");
    assert_u(&told.ledger, 1, 44.55);
    assert_u(&told.ledger, 2, 44.55);
    told.tell(Record::Undone { of: Sequence(4) }).expect("taken back");
    assert_u(&told.ledger, 1, 12.0);

    shared_zero_mark(&mut told, 3, 90_000, 9.0).expect("a second mark");
    assert_u(&told.ledger, 2, 9.0);
    told.tell(Record::Undone { of: Sequence(3) }).expect("taken back");
    assert_u(&told.ledger, 1, 44.55);
}

/// Two weights that amendments have made good tell more than the stay did, two that are worse do not: 5 √2 = 7.07 mg.
#[test]
fn the_better_knowledge_counts() {
    for (amended, u) in [(5.0_f32, 7.071), (40.0, 12.0)] {
        let mut told = one_stay();
        for (of, mg) in [(2, 100_010), (3, 95_007)] {
            let net = Measured {
                value: Milligrams(mg),
                u: amended,
            };
            let weight = Weight { net, ..exactly(mg) };
            let of = Sequence(of);
            told.tell(Record::Amended { of, weight }).expect("amended");
        }
        assert_u(&told.ledger, 1, u);
        assert_eq!(told.ledger.used_at(1).map(|went| went.value), Some(Milligrams(5_003)));
    }
}

/// One zero, until the pan is found empty or the converter has been off.
#[test]
fn loads_are_apart_on_one_zero_only() {
    let mut cell = Cell::new(PER_GRAM);
    cell.rest(6.0, 0.0);
    let before = cell.settle(100.0);
    cell.rest(600.0, 0.1);
    let after = cell.settle(96.0);
    let apart = cell.scale.difference_u(&before, &after).expect("one zero");
    assert_eq!(Some(apart), Some(cell.scale.difference(&before, &after).u));
    cell.empty();
    let back = cell.settle(96.0);
    assert_eq!(cell.scale.difference_u(&after, &back), None);
    cell.scale.has_rested(Instant(cell.now));
    let rested = cell.settle(96.0);
    assert_eq!(cell.scale.difference_u(&back, &rested), None);
}

/// Knitted from the pan: the page says what a mark would note, with the ± of that alone, the mark notes it, and a power cut changes none
/// of it. Lifted off and found empty, the pan has another zero: then it is a mark like any.
#[test]
fn a_cake_that_stays_is_marked_by_what_went() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    // The cell warms up, and where its zero is by now is anybody's guess.
    bench.wait(1_800.0);
    // The first press only wakes the display.
    bench.press(Key::Mark);
    bench.wait(5.0);
    bench.press(Key::Mark);
    let weight = bench.app.book().ledger().steps()[0].weight.net;
    bench.wait(60.0);
    bench.put(16.0);
    let Body::Pan(page) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    let would = page.used.expect("a section on the pan");
    bench.press(Key::Mark);
    let Notice::Noted { used, .. } = bench.notice() else {
        panic!("{:?}", bench.notice())
    };
    let deeds = bench.deeds();
    let [
        ..,
        Record::SharedZeroMark {
            weight: after, used_u, ..
        },
    ] = deeds.as_slice()
    else {
        panic!("{:?}", deeds.last())
    };
    let apart = (weight.u.powi(2) + after.net.u.powi(2)).sqrt();
    assert!(*used_u > 1.0 && *used_u < 0.3 * apart, "{used_u} mg, apart {apart} mg");
    // Moisture within minutes is a milligram.
    assert!((used.u - used_u).abs() < 3.0, "{used:?} of {used_u} mg");
    let drawn = |said: Measured| Indication::rounded_up(said.expanded(), Unit::Gram);
    assert_eq!(drawn(would), drawn(used), "the page, in the steps that it draws");
    let ledger = bench.app.book().ledger().clone();
    assert_eq!(&ledger, bench.power_cycle().app.book().ledger());

    let mut lifted = Bench::weighed_in();
    lifted.put(16.0);
    lifted.press(Key::Mark);
    assert!(
        matches!(lifted.deeds().last(), Some(Record::Mark { .. })),
        "{:?}",
        lifted.deeds()
    );
}

/// What is stated is of the two loads that were noted, even though the first one is known better after it has lain on for a while.
#[test]
fn it_is_said_of_the_loads_that_were_noted() {
    let mut bench = Bench::with_pair();
    bench.put(20.0);
    let noted = bench.app.scale().stood().expect("it has stood");
    bench.press(Key::Mark);
    bench.wait(200.0);
    let lain = bench.app.scale().stood().expect("it lies on");
    bench.put(16.0);
    let last = bench.app.scale().stood().expect("it has stood");
    bench.press(Key::Mark);
    let deeds = bench.deeds();
    let Some(Record::SharedZeroMark { used_u, .. }) = deeds.last() else {
        panic!("{:?}", deeds.last())
    };
    let [of_noted, of_lain] = [noted, lain].map(|load| bench.app.scale().difference_u(&load, &last));
    assert_eq!(Some(*used_u), of_noted);
    assert_ne!(of_noted, of_lain);
}

/// Moisture is held against what the scale does to what went, not to two weights: those are 0.15 g off each by the time that the cell is
/// warm, far more than an hour's moisture of such a cake, which is more than the scale makes of the difference.
#[test]
fn damp_is_asked_of_what_went_in_the_stay() {
    let mut bench = Bench::with_pair();
    // So that the converter stays on.
    bench.plug(true);
    bench.put(100.0);
    bench.wait(1_800.0);
    // The first press only wakes the display.
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    for _ in 0..4 {
        bench.wait(900.0);
        bench.press(Key::Mark);
    }
    bench.put(97.0);
    let Body::Pan(page) = bench.body() else {
        panic!("{:?}", bench.body())
    };
    assert!(page.used.is_some() && page.damp, "{page:?}");
}

/// Out of its bowl and back, between two sights of the empty pan: what the bowls weigh is in it, too, so that it is a mark like any.
#[test]
fn a_cake_that_changed_its_bowl_did_not_stay() {
    for changed in [false, true] {
        let mut bench = Bench::with_pair();
        bench.put(85.0);
        bench.press(Key::Zero);
        bench.press(Key::Mark);
        bench.put(105.0);
        bench.press(Key::Mark);
        let bowl = if changed {
            // The notice has gone.
            bench.wait(8.0);
            bench.open(Word::Bowls);
            bench.choose(Word::NoBowl);
            0.0
        } else {
            85.0
        };
        bench.put(16.0 + bowl);
        bench.press(Key::Mark);
        let deeds = bench.deeds();
        match deeds.last() {
            Some(Record::Mark { weight, .. }) => assert!(changed && weight.bowl.is_none(), "{weight:?}"),
            Some(Record::SharedZeroMark { weight, .. }) => assert!(!changed && weight.bowl.is_some(), "{weight:?}"),
            other => panic!("{other:?}"),
        }
    }
}
