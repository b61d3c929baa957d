//! What counted rounds rest on: records of a ledger, by hand.

use std::prelude::rust_2024::*;

use crate::forecast::{half_of, pace};
use crate::journal::{Entry, PairEvent, Record, Sequence};
use crate::ledger::Ledger;
use crate::measured::Measured;
use crate::sock::{Order, Preset, Weight, YarnLetter};
use crate::units::{Milligrams, Stamp};

const A: YarnLetter = YarnLetter::A;

fn weight(mg: i32) -> Weight {
    Weight {
        net: Measured {
            value: Milligrams(mg),
            u: 100.0,
        },
        bowl: None,
        air: None,
    }
}

fn weigh_in(mg: i32) -> PairEvent {
    PairEvent::WeighIn {
        yarn: A,
        weight: weight(mg),
    }
}

/// Counted in the cuff.
fn rounds(rounds: u16, mg: i32) -> PairEvent {
    PairEvent::Rounds {
        line: 0,
        yarn: A,
        weight: weight(mg),
        rounds,
    }
}

/// A pair in one yarn, and these events so many seconds after its beginning.
fn told(events: &[(u32, PairEvent)]) -> Ledger {
    let mut ledger = Ledger::default();
    let lines = Preset::OneYarn.lines(Order::OneAfterTheOther);
    let begun = (0, Record::PairBegun { pair: 1, lines });
    let events = events.iter().map(|(at, event)| {
        let event = event.clone();
        (*at, Record::OfPair { pair: 1, event })
    });
    for ((at, record), number) in [begun].into_iter().chain(events).zip(1..) {
        let entry = Entry {
            sequence: Sequence(number),
            at: Stamp(at),
            record,
        };
        ledger.apply(&entry).expect("it fits");
    }
    ledger
}

/// A further first weight begins the yarn anew.
#[test]
fn half_is_of_the_yarn_as_it_was_weighed_in_last() {
    let ledger = told(&[(0, weigh_in(40_000)), (1, weigh_in(30_000))]);
    assert_eq!(half_of(&ledger, A), Some(Milligrams(15_000)));
}

/// Of stretches in a row the first and the last weighing count: 100 mg times the root of two over ten rounds. Where a section is marked
/// between them all four do: 20 mg a round, and 1 % of 220 mg over the root of two for a hand that is steady.
#[test]
fn weighings_count_once_in_a_chain_and_each_in_two() {
    let of_hand = 0.01 * 220.0 / 2.0_f32.sqrt();
    let begin = [(0, weigh_in(90_000)), (1, rounds(0, 90_000)), (2, rounds(5, 88_900))];
    let mark = PairEvent::Mark {
        line: 1,
        yarn: A,
        weight: weight(70_000),
        used_u: None,
    };
    let in_a_row = [begin.as_slice(), &[(3, rounds(5, 87_800))]].concat();
    let parted = [begin.as_slice(), &[(3, mark), (4, rounds(5, 68_900))]].concat();
    for (events, weighings) in [(in_a_row, 2.0_f32), (parted, 4.0)] {
        let pace = pace(&told(&events), 0, A).expect("counted");
        assert_eq!((pace.rounds, pace.stretches), (10, 2));
        assert!((pace.per_round.mass - 220.0).abs() < 0.1, "{pace:?}");
        let by_hand = (100.0 * weighings.sqrt() / 10.0).hypot(of_hand);
        assert!((pace.per_round.u - by_hand).abs() < 0.3, "{pace:?}, by hand {by_hand}");
    }
}

/// Days apart the cake may hold more water or less.
#[test]
fn days_between_the_weighings_make_a_round_less_sure() {
    let after = |seconds: u32| {
        let counted = [
            (0, weigh_in(90_000)),
            (1, rounds(0, 90_000)),
            (1 + seconds, rounds(5, 88_900)),
        ];
        pace(&told(&counted), 0, A).expect("counted").per_round.u
    };
    assert!(
        after(3 * 86_400) > 3.0 * after(600),
        "{} {}",
        after(3 * 86_400),
        after(600)
    );
}
