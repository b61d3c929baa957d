//! A yarn that goes on in another pair: its chain ends there and begins here, with one record, whatever becomes of that record.

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Entry, PairEvent, Record, Sequence, Setting};
use yarn_scale_core::ledger::{Ledger, MAX_STEPS, Purpose};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_tests::knitting;
use yarn_scale_tests::told::exactly;

const A: YarnLetter = YarnLetter::A;
const C: YarnLetter = YarnLetter::C;

/// A book of two pairs that is told records, numbered from 1: A of each was weighed in with 90 g.
struct Told {
    book: Book,
    next: u32,
}

impl Told {
    fn two_pairs() -> Self {
        let mut told = Self {
            book: Book::new(Milligrams::from_grams(500)),
            next: 1,
        };
        for pair in [1, 2] {
            let lines = knitting::plan().into_iter().collect();
            told.tell(Record::PairBegun { pair, lines });
            told.of(pair, weigh_in(90_000));
        }
        told.of(1, mark(70_000));
        told
    }

    fn tell(&mut self, record: Record) -> Sequence {
        let (sequence, at) = (Sequence(self.next), Stamp(10));
        self.next += 1;
        self.book.apply(&Entry { sequence, at, record });
        self.book.settle();
        sequence
    }

    fn of(&mut self, pair: u16, event: PairEvent) -> Sequence {
        self.tell(Record::OfPair { pair, event })
    }

    /// A of pair 1 goes on as C of pair 2.
    fn carry(&mut self, mg: i32) -> Sequence {
        let weight = exactly(mg);
        self.of(
            2,
            PairEvent::Carried {
                yarn: C,
                from: 1,
                was: A,
                weight,
            },
        )
    }

    fn ledger(&self, pair: u16) -> Ledger {
        let mut needles = self.book.needles().clone();
        assert!(needles.take_in_hand(pair), "a pair that is known");
        needles.in_hand().clone()
    }

    /// Weighed in, used, unplanned and left, mg.
    fn account(&self, pair: u16, yarn: YarnLetter) -> [i32; 4] {
        let account = self.ledger(pair).account(yarn);
        [account.weighed_in, account.used, account.unplanned, account.left].map(|mass| mass.0)
    }

    fn is_doubtful(&self) -> bool {
        self.book.troubles().doubtful
    }
}

fn weigh_in(mg: i32) -> PairEvent {
    PairEvent::WeighIn {
        yarn: A,
        weight: exactly(mg),
    }
}

fn mark(mg: i32) -> PairEvent {
    PairEvent::Mark {
        line: 0,
        yarn: A,
        weight: exactly(mg),
        used_u: None,
    }
}

#[test]
fn the_chain_ends_there_and_begins_here() {
    let mut told = Told::two_pairs();
    told.carry(68_000);
    // What went since the mark was no section's; what is left is elsewhere, and is not left twice.
    assert_eq!(told.account(1, A), [90_000, 20_000, 70_000, 0]);
    assert_eq!(told.account(2, C), [68_000, 0, 0, 68_000]);
    let there = told.ledger(1);
    assert_eq!(there.last(A), None);
    assert_eq!(there.steps().last().map(|step| step.purpose), Some(Purpose::Carried(2)));
    assert_eq!(there.as_pair().yarns().count(), 0);
    assert_eq!(there.used(0).map(|used| used.value), Some(Milligrams(20_000)));
    assert_eq!(told.book.ledger().pair(), 2, "the pair of the record is in hand");
    assert!(!told.is_doubtful());
    // A mark of it there has nothing to go from; a weigh-in begins anew.
    told.of(1, mark(60_000));
    assert!(told.is_doubtful());
    assert_eq!(told.account(1, A), [90_000, 20_000, 70_000, 0]);
    told.of(1, weigh_in(50_000));
    told.of(1, mark(45_000));
    assert_eq!(told.account(1, A), [140_000, 25_000, 70_000, 45_000]);
}

#[test]
fn what_corrects_it_or_takes_it_back_does_so_in_both() {
    let mut told = Told::two_pairs();
    let carried = told.carry(68_000);
    // The step that an amendment finds is that of the pair which the record belongs to.
    assert_eq!(told.book.step(carried).map(|(pair, _)| pair), Some(2));
    told.of(
        2,
        PairEvent::Amended {
            of: carried,
            weight: exactly(68_030),
        },
    );
    assert_eq!(told.account(1, A), [90_000, 20_000, 70_000, 0]);
    let end = told.ledger(1).steps().last().copied().expect("it ends");
    assert_eq!((end.weight.net.value, end.amended), (Milligrams(68_030), true));
    assert_eq!(told.account(2, C), [68_030, 0, 0, 68_030]);
    told.of(2, PairEvent::Undone { of: carried });
    assert_eq!(told.account(1, A), [90_000, 20_000, 0, 70_000]);
    assert_eq!(told.account(2, C), [0; 4]);
    assert!(!told.is_doubtful());
}

#[test]
fn the_pair_that_it_came_from_cannot_take_it_back() {
    let mut told = Told::two_pairs();
    let marked = told.ledger(1).newest();
    let carried = told.carry(68_000);
    assert_eq!(told.ledger(1).newest(), marked);
    for event in [
        PairEvent::Undone { of: carried },
        PairEvent::TakenBack { of: carried },
        PairEvent::Moved { of: carried, line: 1 },
        PairEvent::Amended {
            of: carried,
            weight: exactly(1_000),
        },
    ] {
        told.book = {
            let mut other = Told {
                book: told.book.clone(),
                next: told.next,
            };
            other.of(1, event.clone());
            assert!(other.is_doubtful(), "{event:?}");
            other.book
        };
        assert_eq!(told.account(1, A), [90_000, 20_000, 70_000, 0], "{event:?}");
        assert_eq!(told.account(2, C), [68_000, 0, 0, 68_000], "{event:?}");
    }
}

/// Whichever pair is in hand, and once only.
#[test]
fn it_belongs_to_the_pair_where_it_goes_on_and_cannot_go_on_twice() {
    let mut told = Told::two_pairs();
    let carried = told.carry(68_000);
    told.tell(Record::Setting(Setting::PairInHand(1)));
    assert_eq!(told.book.ledger().pair(), 1);
    assert_eq!(told.book.step(carried).map(|(pair, _)| pair), Some(2));
    told.carry(60_000);
    assert_eq!(told.account(1, A), [90_000, 20_000, 70_000, 0]);
    assert_eq!(told.ledger(1).steps().len(), 3);
}

#[test]
fn a_finished_pairs_leftover_goes_on_too() {
    let mut told = Told::two_pairs();
    told.tell(Record::PairClosed { pair: 1 });
    told.carry(68_000);
    assert_eq!(told.account(1, A), [90_000, 20_000, 70_000, 0]);
    assert!(!told.ledger(1).is_open());
    let weight = exactly(5_000);
    told.of(
        2,
        PairEvent::Carried {
            yarn: YarnLetter::D,
            from: 9,
            was: A,
            weight,
        },
    );
    assert_eq!(told.account(2, YarnLetter::D), [5_000, 0, 0, 5_000]);
    // Where the pair that it went to is closed for good, its chain has ended all the same.
    let mut told = Told::two_pairs();
    told.tell(Record::PairClosed { pair: 2 });
    let lines = knitting::plan().into_iter().collect();
    told.tell(Record::PairBegun { pair: 3, lines });
    told.carry(68_000);
    assert_eq!(told.account(1, A), [90_000, 20_000, 70_000, 0]);
    assert!(!told.is_doubtful());
}

#[test]
fn where_one_of_both_is_full_neither_changes() {
    for full in [1, 2] {
        let mut told = Told::two_pairs();
        while told.ledger(full).steps().len() < MAX_STEPS {
            told.of(full, mark(60_000));
        }
        let before = [told.account(1, A), told.account(2, C)];
        assert!(!told.book.needles().have_room(&[1, 2]));
        told.carry(50_000);
        assert!(told.is_doubtful());
        assert_eq!([told.account(1, A), told.account(2, C)], before);
    }
}
