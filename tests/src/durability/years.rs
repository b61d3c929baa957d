//! Years of knitting on one journal.

use yarn_scale_core::journal::{Entry, Journal, JournalFault, Record, Sequence, StartCause, Weight, condense};
use yarn_scale_core::ledger::Ledger;
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::flash::SimFlash;

use super::Found;
use crate::knitting;

/// The device's journal: half of its flash.
pub const DEVICE: usize = 1 << 20;

/// A scale in use for years.
#[derive(Debug)]
pub struct Years {
    /// Its flash.
    pub flash: SimFlash,
    /// Its journal.
    pub journal: Journal,
    /// The running pair.
    pub ledger: Ledger,
    second: u32,
    visits: u32,
}

impl Years {
    /// A new scale with a blank flash of this many bytes.
    #[must_use]
    pub fn new(capacity: usize) -> Self {
        Self::from(SimFlash::blank(capacity))
    }

    /// Knits a pair: twelve sections, eight of them marked twice (ripped back, marked anew), all amended; closed, condensed.
    ///
    /// # Errors
    /// What the journal refuses.
    pub fn knit_a_pair(&mut self, number: u16) -> Result<(), JournalFault> {
        let mut records = knitting::pair(number, Sequence(0)).into_iter();
        let mut marked = 0;
        let mut last: Option<Entry> = None;
        self.note(Record::Started(StartCause::PowerOn))?;
        let closing = loop {
            let Some(record) = records.next() else { return Ok(()) };
            let record = match (record, &last) {
                (Record::Amended { .. }, Some(marked)) => amended(marked),
                (closing @ Record::PairClosed { .. }, _) => break closing,
                (record, _) => record,
            };
            if matches!(record, Record::Mark { .. }) {
                marked += 1;
                if marked <= 8 {
                    let first = self.note(record.clone())?;
                    let amendment = amended(&first);
                    self.note(amendment)?;
                    self.note(Record::Undone { of: first.sequence })?;
                }
            }
            last = Some(self.note(record)?);
        };
        self.note(closing)?;
        self.note(condense(&self.ledger.clone()))?;
        self.journal.tidy(&mut self.flash)
    }

    /// Marks noted for each pair.
    pub const MARKS_A_PAIR: usize = 20;

    /// Puts something on the pan so many times.
    ///
    /// # Errors
    /// What the journal refuses.
    pub fn visit(&mut self, times: u32) -> Result<(), JournalFault> {
        for _ in 0..times {
            self.visits += 1;
            self.note(knitting::visit((self.visits % 200_000) as i32))?;
        }
        Ok(())
    }

    /// Notes one record, and takes it into the ledger.
    ///
    /// # Errors
    /// What the journal refuses.
    pub fn note(&mut self, record: Record) -> Result<Entry, JournalFault> {
        self.second += 60;
        let entry = self.journal.append(&mut self.flash, Stamp(self.second), record)?;
        self.ledger.apply(&entry).expect("in order");
        Ok(entry)
    }
}

impl From<SimFlash> for Years {
    /// A scale that has been in use, with its running pair closed.
    ///
    /// # Panics
    /// If its flash does not open.
    fn from(mut flash: SimFlash) -> Self {
        let (journal, found) = Found::open(&mut flash).expect("a flash that works");
        let last = found.entries.iter().map(|entry| entry.at.0).max();
        let mut years = Self {
            flash,
            journal,
            ledger: found.ledger().0,
            second: last.unwrap_or(0),
            visits: 0,
        };
        if years.ledger.is_open() {
            let pair = years.ledger.pair();
            years
                .note(Record::PairClosed { pair })
                .expect("room is kept back for this");
            years.note(condense(&years.ledger.clone())).expect("room");
        }
        years
    }
}

fn amended(entry: &Entry) -> Record {
    let (Record::WeighIn { weight, .. } | Record::Mark { weight, .. }) = entry.record else {
        unreachable!("only weights are amended");
    };
    let mut net = weight.net;
    net.value.0 += 7;
    Record::Amended {
        of: entry.sequence,
        weight: Weight { net, ..weight },
    }
}
