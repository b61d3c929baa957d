//! What the book tells recognition: how large this pair is, what the pan has seen since, how damp the yarn has become, and what two marks
//! of one stay say.

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::Record;
use yarn_scale_core::recognise::{Meaning, OnPan, Situation, consider};
use yarn_scale_core::sock::{Order, Preset, Weight};
use yarn_scale_core::units::Milligrams;

use crate::books::{self, A, measured, on_pan_at, visit_in, weight};

fn weigh_in(mg: i32) -> Record {
    Record::WeighIn {
        yarn: A,
        weight: weight(mg),
    }
}

fn mark(line: u8, mg: i32) -> Record {
    Record::Mark {
        line,
        yarn: A,
        weight: weight(mg),
    }
}

fn visit(mg: i32) -> Record {
    visit_in(None, mg)
}

/// A pair in one yarn: cuff 5 g, leg 15, heel 7, ... as usual; each record an hour after the one before.
fn book(records: &[Record]) -> Book {
    let begun = books::begun(1, Preset::OneYarn, Order::OneAfterTheOther);
    books::book(&[&[begun], records].concat())
}

fn of(book: &Book, line: u8, on_pan: &OnPan) -> Situation {
    Situation::of(book, line, on_pan).expect("a line of the plan")
}

/// Two sections took 1.6 times as much as usual. Half the variance is the pair's: exp(0.49 x 2 ln 1.6 / (0.51 + 0.49 x 2)) = 1.362, by hand.
#[test]
fn who_knits_large_is_expected_to_go_on_so() {
    let expected = |records: &[Record]| {
        let situation = of(&book(records), 2, &on_pan_at(9, 50_000));
        situation.planned().expect("weighed").next[0].amount
    };
    let usual = expected(&[weigh_in(100_000)]);
    let large = expected(&[weigh_in(100_000), mark(0, 92_000), mark(1, 68_000)]);
    assert!((usual.expected - 7_000.0).abs() < 1.0, "{usual:?}");
    assert!((large.expected - 1.362 * 7_000.0).abs() < 20.0, "{large:?}");
    // And it is known better: the odds of what is expected against twice that.
    let odds = |amount: yarn_scale_core::recognise::Amount| {
        amount.density(amount.expected, 0.0) / amount.density(2.0 * amount.expected, 0.0)
    };
    assert!(odds(large) > 1.5 * odds(usual), "{} {}", odds(large), odds(usual));
}

/// A cuff of 5 g and a leg of 15 without a mark between: the pan has seen 98 g out of curiosity, and 95 g at the boundary.
#[test]
fn the_visit_that_fits_both_sections_is_where_the_mark_belonged() {
    let share = |records: &[Record]| {
        let situation = of(&book(records), 0, &on_pan_at(9, 80_000));
        let considered = consider(&situation);
        let forgotten = considered.iter().find_map(|considered| match considered.meaning {
            Meaning::Forgotten { seen: true, .. } => Some(considered.share),
            _ => None,
        });
        (situation, forgotten)
    };
    let (seen, likely) = share(&[weigh_in(100_000), visit(98_000), visit(95_000)]);
    assert_eq!(seen.visits, 2);
    assert_eq!(seen.late.map(|late| late.used), Some(Milligrams(5_000)));
    assert!(likely.is_some_and(|share| share > 0.5), "{likely:?}");
    // In the other order in time, too.
    let (seen, _) = share(&[weigh_in(100_000), visit(95_000), visit(88_000)]);
    assert_eq!(seen.late.map(|late| late.used), Some(Milligrams(5_000)));
    // Where the pan has seen nothing, nothing is offered.
    let (unseen, likely) = share(&[weigh_in(100_000)]);
    assert_eq!((unseen.late, likely), (None, None));
}

/// Once the pan has seen the cake in the middle of the section only, a forgotten mark is less likely than if it has seen nothing.
#[test]
fn a_visit_that_fits_no_boundary_speaks_against_a_forgotten_mark() {
    let forgotten = |records: &[Record]| {
        let situation = of(&book(records), 0, &on_pan_at(9, 86_000));
        let shares = consider(&situation).into_iter().filter_map(|considered| {
            let Meaning::Forgotten { line: 1, .. } = considered.meaning else {
                return None;
            };
            Some(considered.share)
        });
        shares.sum::<f32>()
    };
    let unseen = forgotten(&[weigh_in(100_000)]);
    let elsewhere = forgotten(&[weigh_in(100_000), visit(86_600)]);
    assert!(elsewhere < 0.9 * unseen, "{elsewhere} {unseen}");
}

/// Everything became damper by 2 %, the control skein says so: 95 g weigh 96.9, and the cuff took 5 g all the same.
#[test]
fn the_control_skein_tells_what_damp_took_away() {
    let control = |mg| Record::Control { weight: measured(mg) };
    let with = book(&[weigh_in(100_000), control(100_000), control(102_000)]);
    let without = book(&[weigh_in(100_000)]);
    let used = |book: &Book| of(book, 0, &on_pan_at(5, 96_900)).planned().expect("weighed").used;
    assert!((used(&with).value.0 - 5_000).abs() < 30, "{:?}", used(&with));
    assert_eq!(used(&without).value, Milligrams(3_100));
    assert!(
        used(&with).u < 0.7 * used(&without).u,
        "{:?} {:?}",
        used(&with),
        used(&without)
    );
}

/// By the humidity sensor: the cake was weighed in at 40 %, and lies in air of 60 % now.
#[test]
fn the_humidity_sensor_narrows_what_moisture_can_have_done() {
    let air = |percent| Some(yarn_scale_core::sock::Humidity::from_percent(percent));
    let sensed = Record::WeighIn {
        yarn: A,
        weight: Weight {
            air: air(40.0),
            ..weight(100_000)
        },
    };
    let used = |humidity| {
        let on_pan = OnPan {
            humidity,
            ..on_pan_at(200, 96_000)
        };
        of(&book(std::slice::from_ref(&sensed)), 0, &on_pan)
            .planned()
            .expect("weighed")
            .used
    };
    assert_eq!(used(None).value, Milligrams(4_000));
    assert!(used(Some(60.0)).value > Milligrams(5_500), "{:?}", used(Some(60.0)));
    assert!(used(Some(60.0)).u < used(None).u);
}

/// Marks of one stay stand on one zero: what went between them is known better than either weight.
#[test]
fn what_went_in_one_stay_is_as_certain_as_that() {
    let book = book(&[weigh_in(100_000), mark(0, 95_000)]);
    let at = on_pan_at(3, 80_000);
    let used = |apart| {
        let situation = of(&book, 1, &OnPan { apart, ..at });
        situation.planned().expect("weighed").used
    };
    assert_eq!(used(None).value, used(Some(5.0)).value);
    assert!(
        used(Some(5.0)).u < used(None).u,
        "{:?} {:?}",
        used(Some(5.0)),
        used(None)
    );
}
