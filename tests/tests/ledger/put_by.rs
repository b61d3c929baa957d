//! What a pair keeps of its own while another one is in hand.

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Entry, Gauge, PairEvent, Record, Sequence, Setting};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::{Milligrams, Stamp};
use yarn_scale_tests::knitting;
use yarn_scale_tests::told::exactly;

const YARN: YarnLetter = YarnLetter::A;

/// A book that is told records, numbered from 1.
struct Told {
    book: Book,
    next: u32,
}

impl Told {
    fn tell(&mut self, record: Record) {
        let (sequence, at) = (Sequence(self.next), Stamp(10));
        self.next += 1;
        self.book.apply(&Entry { sequence, at, record });
        self.book.settle();
    }

    fn begin(&mut self, pair: u16) {
        let lines = knitting::plan().into_iter().collect();
        self.tell(Record::PairBegun { pair, lines });
        self.of(
            pair,
            PairEvent::WeighIn {
                yarn: YARN,
                weight: exactly(90_000),
            },
        );
    }

    fn of(&mut self, pair: u16, event: PairEvent) {
        self.tell(Record::OfPair { pair, event });
    }

    fn count(&mut self, pair: u16, mg: i32, rounds: u16) {
        let weight = exactly(mg);
        self.of(
            pair,
            PairEvent::Rounds {
                line: 0,
                yarn: YARN,
                weight,
                rounds,
            },
        );
    }

    fn rounds(&self) -> Vec<u16> {
        let counted = self.book.ledger().counted(0, YARN);
        counted.iter().map(|counted| counted.rounds).collect()
    }
}

#[test]
fn gauge_and_counted_rounds_wait_with_their_pair() {
    let mut told = Told {
        book: Book::new(Milligrams::from_grams(500)),
        next: 1,
    };
    let gauge = |stitches| Gauge {
        stitches,
        stitches_per_10_cm: 60,
        rounds_per_10_cm: 84,
    };
    told.begin(1);
    told.of(1, PairEvent::Gauge(gauge(64)));
    told.count(1, 88_000, 0);
    told.count(1, 87_000, 5);

    told.begin(2);
    assert_eq!((told.book.ledger().gauge(), told.rounds()), (Gauge::default(), vec![]));
    told.of(2, PairEvent::Gauge(gauge(72)));
    told.count(2, 70_000, 7);

    told.tell(Record::Setting(Setting::PairInHand(1)));
    assert_eq!(told.book.ledger().pair(), 1);
    assert_eq!((told.book.ledger().gauge(), told.rounds()), (gauge(64), vec![0, 5]));
    told.tell(Record::Setting(Setting::PairInHand(2)));
    assert_eq!((told.book.ledger().gauge(), told.rounds()), (gauge(72), vec![7]));
}
