//! Years of knitting on one journal.

use yarn_scale_core::journal::{Entry, Journal, JournalFault, Record, Sequence, StartCause};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::sock::Weight;
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::SimFlash;

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

/// Knits pairs until the journal takes no more: the number of the first one refused, and why.
///
/// # Panics
/// If there is no end.
pub fn until_full(years: &mut Years, mut each: impl FnMut(u16, &Years)) -> (u16, JournalFault) {
    let refused = (1..u16::MAX).find_map(|pair| {
        let refused = years.knit_a_pair(pair).err();
        each(pair, years);
        refused.map(|fault| (pair, fault))
    });
    refused.expect("some end")
}

/// How long the sector that is erased most often lasts, in years, at 20 marks and 200 visits a day: a pair a day, far more
/// than anybody knits. From the erases of so many days.
///
/// # Errors
/// What the journal refuses.
pub fn endurance_years(days: u16) -> Result<f64, JournalFault> {
    let mut years = Years::new(DEVICE);
    for day in 1..=days {
        years.knit_a_pair(day)?;
        years.visit(200)?;
    }
    let worst = years.flash.wear().iter().copied().max().unwrap_or(0);
    Ok(f64::from(ENDURANCE) / f64::from(worst.max(1)) * f64::from(days) / 365.25)
}

/// Erase cycles of a sector (W25Q16JV data sheet, "more than 100,000", from memory).
pub const ENDURANCE: u32 = 100_000;

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
