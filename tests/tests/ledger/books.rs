//! Books of invented records, each an hour after the one before, as tests of recognition take them.

use yarn_scale_core::book::Book;
use yarn_scale_core::journal::{Entry, PairEvent, Record, Sequence};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::recognise::OnPan;
use yarn_scale_core::sock::{BowlNumber, Order, Preset, Weight, YarnLetter};
use yarn_scale_core::units::{FineCounts, Milligrams, Stamp};

pub(crate) const A: YarnLetter = YarnLetter::A;
pub(crate) const B: YarnLetter = YarnLetter::B;
pub(crate) const HOUR: u32 = 3_600;

pub(crate) fn measured(mg: i32) -> Measured {
    Measured {
        value: Milligrams(mg),
        u: 20.0,
    }
}

pub(crate) fn weight(mg: i32) -> Weight {
    Weight {
        net: measured(mg),
        bowl: None,
        air: None,
    }
}

pub(crate) fn of_pair(pair: u16, event: PairEvent) -> Record {
    Record::OfPair { pair, event }
}

pub(crate) fn weigh_in_of(pair: u16, yarn: YarnLetter, mg: i32) -> Record {
    let weight = weight(mg);
    of_pair(pair, PairEvent::WeighIn { yarn, weight })
}

pub(crate) fn mark_of(pair: u16, line: u8, yarn: YarnLetter, mg: i32) -> Record {
    let event = PairEvent::Mark {
        line,
        yarn,
        weight: weight(mg),
        used_u: None,
    };
    of_pair(pair, event)
}

pub(crate) fn weigh_in(yarn: YarnLetter, mg: i32) -> Record {
    weigh_in_of(1, yarn, mg)
}

pub(crate) fn mark(line: u8, yarn: YarnLetter, mg: i32) -> Record {
    mark_of(1, line, yarn, mg)
}

pub(crate) fn visit_in(bowl: Option<BowlNumber>, mg: i32) -> Record {
    Record::Visit {
        gross: measured(mg),
        bowl,
        zero: FineCounts(0),
    }
}

pub(crate) fn begun(pair: u16, preset: Preset, order: Order) -> Record {
    let lines = preset.lines(order);
    Record::PairBegun { pair, lines }
}

pub(crate) fn book(records: &[Record]) -> Book {
    let mut book = Book::new(Milligrams::from_grams(500));
    for (number, record) in (1..).zip(records) {
        book.apply(&Entry {
            sequence: Sequence(number),
            at: Stamp(HOUR * number),
            record: record.clone(),
        });
    }
    book.settle();
    book
}

pub(crate) fn on_pan_at(hour: u32, mg: i32) -> OnPan {
    OnPan {
        gross: measured(mg),
        at: Stamp(HOUR * hour),
        humidity: None,
        apart: None,
    }
}
