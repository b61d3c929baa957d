//! What opening a journal gives, kept for looking at.

use yarn_scale_core::journal::{Entry, Journal, JournalFault, Record, Replayed, RingName};
use yarn_scale_core::ledger::{Ledger, Needles};
use yarn_scale_sim::device::flash::SimFlash;

/// What replay gave.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Intact entries, in the order of replay.
    pub entries: Vec<Entry>,
    /// Gaps, with the number of intact entries before each.
    pub gaps: Vec<(usize, RingName, u32)>,
    /// The rings with something unreadable at their end.
    pub unreadable: Vec<RingName>,
}

impl Found {
    /// Opens the journal and keeps what replay gives.
    ///
    /// # Errors
    /// Whatever [`Journal::open`] gives.
    pub fn open(flash: &mut SimFlash) -> Result<(Journal, Self), JournalFault> {
        let mut found = Self::default();
        let journal = Journal::open(flash, |replayed| found.take(replayed))?;
        Ok((journal, found))
    }

    /// Every intact entry of the whole journal.
    ///
    /// # Panics
    /// If the flash cannot be read.
    pub fn everything(journal: &Journal, flash: &mut SimFlash) -> Vec<Entry> {
        let mut found = Self::default();
        let mut next = journal.first();
        while let Some(place) = next {
            next = journal
                .read(flash, place, |replayed| found.take(replayed))
                .expect("a flash that works");
        }
        found.entries
    }

    fn take(&mut self, replayed: Replayed<'_>) {
        match replayed {
            Replayed::Entry(entry) => self.entries.push(entry.clone()),
            Replayed::Gap { among, missing } => self.gaps.push((self.entries.len(), among, missing)),
            Replayed::Unreadable { among } => self.unreadable.push(among),
        }
    }

    /// The ledger that these entries give, gaps included; and how many entries it did not take.
    #[must_use]
    pub fn ledger(&self) -> (Ledger, usize) {
        let mut ledger = Ledger::default();
        let mut refused = 0;
        for (place, entry) in self.entries.iter().enumerate() {
            if self.gap_among_marks(place) {
                ledger.gap();
            }
            refused += usize::from(ledger.apply(entry).is_err());
        }
        if self.unreadable.contains(&RingName::Marks) || self.gap_among_marks(self.entries.len()) {
            ledger.gap();
        }
        (ledger, refused)
    }

    /// The pairs that these entries give, the one to be gone on with in hand.
    #[must_use]
    pub fn needles(&self) -> Needles {
        let mut needles = Needles::default();
        for (place, entry) in self.entries.iter().enumerate() {
            if self.gap_among_marks(place) {
                needles.gap();
            }
            // What contradicts the others is not taken.
            let _ = needles.apply(entry);
        }
        if self.unreadable.contains(&RingName::Marks) || self.gap_among_marks(self.entries.len()) {
            needles.gap();
        }
        needles.settle();
        needles
    }

    fn gap_among_marks(&self, place: usize) -> bool {
        self.gaps
            .iter()
            .any(|&(before, among, _)| before == place && among == RingName::Marks)
    }

    /// The entries of one ring.
    pub fn of(&self, ring: RingName) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(move |entry| ring_of(&entry.record) == ring)
    }
}

/// The ring that a record belongs in: the table in the journal's documentation, written down once more.
#[must_use]
pub(super) fn ring_of(record: &Record) -> RingName {
    use yarn_scale_core::journal::Named;
    match record {
        Record::Visit { .. } | Record::Started(_) => RingName::Visits,
        Record::Condensed { .. }
        | Record::Named {
            what: Named::Pair(_), ..
        } => RingName::Pairs,
        _ => RingName::Marks,
    }
}
