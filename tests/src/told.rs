//! A ledger that is told records by a test, and exact weights, so that edges stand where they are meant to.

use yarn_scale_core::journal::{Entry, Record, Sequence};
use yarn_scale_core::ledger::{ApplyFault, Ledger};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::sock::{Construction, Line, SectionKind, Sock, Weight, YarnLetter};
use yarn_scale_core::units::Stamp;

use crate::knitting;

/// A ledger that is told records, numbered from 1.
#[derive(Debug)]
pub struct Told {
    /// What it keeps of them.
    pub ledger: Ledger,
    next: u32,
}

impl Told {
    /// A pair with the plan of [`knitting`] has been begun.
    #[must_use]
    pub fn begun() -> Self {
        let mut told = Self {
            ledger: Ledger::default(),
            next: 1,
        };
        told.tell(Record::PairBegun {
            pair: 1,
            lines: knitting::plan().into_iter().collect(),
        })
        .expect("a pair begins");
        told
    }

    /// Tells it a record, all within one hour, so that moisture has no time.
    ///
    /// # Errors
    /// What the ledger says against it.
    pub fn tell(&mut self, record: Record) -> Result<(), ApplyFault> {
        let sequence = Sequence(self.next);
        self.next += 1;
        self.ledger.apply(&Entry {
            sequence,
            at: Stamp(10),
            record,
        })
    }

    /// A first weight, exactly so many mg.
    pub fn weigh_in(&mut self, yarn: YarnLetter, mg: i32) {
        let weight = exactly(mg);
        self.tell(Record::WeighIn { yarn, weight }).expect("a first weight");
    }

    /// A mark, exactly so many mg.
    pub fn mark(&mut self, line: u8, yarn: YarnLetter, mg: i32) {
        let weight = exactly(mg);
        self.tell(Record::Mark { line, yarn, weight }).expect("a mark");
    }
}

/// A weight without any uncertainty, so that edges stand where they are meant to.
#[must_use]
pub fn exactly(mg: i32) -> Weight {
    let weight = knitting::weight(mg);
    Weight {
        net: Measured { u: 0.0, ..weight.net },
        ..weight
    }
}

/// A section of the plan.
#[must_use]
pub fn line(kind: SectionKind, sock: Sock, yarn: YarnLetter) -> Line {
    Line {
        kind,
        sock,
        yarn,
        construction: Construction::Plain,
        stitches: 64,
    }
}
