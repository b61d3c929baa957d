//! Age: one bit of the flash turns over, and the journal is opened again.

use yarn_scale_core::journal::{Entry, Journal, Record, RingName, Setting};
use yarn_scale_core::ledger::{Ledger, Purpose};
use yarn_scale_core::sock::YarnLetter;
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::device::flash::{SECTOR, SimFlash};

use super::found::ring_of;
use super::{Found, Step, a_pair_with_everything, tell};
use crate::knitting;

/// A journal before any bit turned over.
#[derive(Debug)]
pub struct Unharmed {
    flash: SimFlash,
    found: Found,
    /// Every intact entry, those before the last checkpoint included.
    all: Vec<Entry>,
}

/// What single flips did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FlipCounts {
    /// Bits turned over, one at a time.
    pub tried: u64,
    /// Flips that made a record unreadable.
    pub records_lost: u64,
    /// Of these, the ones that were in the ledger and put marks in doubt.
    pub in_doubt: u64,
}

impl Unharmed {
    /// A journal of 48 KiB with a pair with everything, closed, and visits.
    ///
    /// # Panics
    /// If the story cannot be told.
    #[must_use]
    pub fn closed_pair() -> Self {
        let mut steps = a_pair_with_everything();
        let next = steps
            .iter()
            .rposition(|step| matches!(step, Step::Note(Record::PairBegun { .. })));
        steps.truncate(next.expect("a second pair"));
        steps.extend((0..40).map(|mg| Step::Note(knitting::visit(mg))));
        Self::new(tell(&steps, 48 << 10).expect("a story"))
    }

    /// Takes the journal on this flash as the one to harm.
    ///
    /// # Panics
    /// If it is harmed already.
    #[must_use]
    pub fn new(mut flash: SimFlash) -> Self {
        let (journal, found) = Found::open(&mut flash).expect("a flash that works");
        assert_eq!(
            (found.gaps.len(), found.unreadable.len()),
            (0, 0),
            "harmed before we began"
        );
        let all = Found::everything(&journal, &mut flash);
        Self { flash, found, all }
    }

    /// Bytes that were written, and bytes that never were: in each sector all that stand behind the last one.
    #[must_use]
    pub fn written_and_blank(&self) -> (Vec<usize>, Vec<usize>) {
        let content = self.flash.content();
        let written_to_the_end = |byte: &usize| {
            let rest = &content[*byte..(byte + 1).next_multiple_of(SECTOR)];
            rest.iter().any(|&byte| byte != 0xFF)
        };
        (0..content.len()).partition(written_to_the_end)
    }

    /// Turns one bit over, opens the journal, and goes on writing.
    ///
    /// # Errors
    /// What was believed that was not written, lost without being told, or did not go on.
    pub fn flip(&self, byte: usize, bit: u8, counts: &mut FlipCounts) -> Result<(), String> {
        let mut flash = self.flash.copy();
        flash.flip(byte, bit);
        let (mut journal, found) = Found::open(&mut flash).map_err(|fault| format!("does not open: {fault:?}"))?;
        counts.tried += 1;
        if let Some(strange) = found.entries.iter().find(|entry| !self.knows(entry)) {
            return Err(format!("believed {strange:?}"));
        }
        let lost: Vec<&Entry> = self
            .found
            .entries
            .iter()
            .filter(|entry| !found.entries.contains(entry))
            .collect();
        self.check_told(&lost, &found)?;
        counts.records_lost += u64::from(!lost.is_empty());
        if lost.iter().any(|entry| ring_of(&entry.record) == RingName::Marks) {
            counts.in_doubt += u64::from(self.check_doubt(&found)?);
        }
        self.check_goes_on(&mut journal, &mut flash, &found)
    }

    /// Turns over each of these bits of each of these bytes, one at a time.
    ///
    /// # Errors
    /// As [`Self::flip`], with the place.
    pub fn flip_all(&self, bytes: &[usize], bits: core::ops::Range<u8>) -> Result<FlipCounts, String> {
        let mut counts = FlipCounts::default();
        for &byte in bytes {
            for bit in bits.clone() {
                self.flip(byte, bit, &mut counts)
                    .map_err(|what| format!("byte {byte:#x}, bit {bit}: {what}"))?;
            }
        }
        Ok(counts)
    }

    fn knows(&self, entry: &Entry) -> bool {
        self.all.contains(entry)
    }

    /// At most one record is lost by one bit, and that is told at its place.
    fn check_told(&self, lost: &[&Entry], found: &Found) -> Result<(), String> {
        let &[lost] = lost else {
            return if lost.is_empty() {
                Ok(())
            } else {
                Err(format!("one bit took {} records: {lost:?}", lost.len()))
            };
        };
        let ring = ring_of(&lost.record);
        let last = self.found.of(ring).last() == Some(lost);
        let first = self.found.of(ring).next() == Some(lost);
        // Replay of pairs and visits begins somewhere: that it begins one later cannot be told.
        if first && ring != RingName::Marks && !last {
            return Ok(());
        }
        if last {
            return if found.unreadable.contains(&ring) {
                Ok(())
            } else {
                Err(format!("the last record is lost and nothing is told: {lost:?}"))
            };
        }
        let next = found
            .entries
            .iter()
            .position(|entry| ring_of(&entry.record) == ring && entry.sequence > lost.sequence);
        let told = found
            .gaps
            .iter()
            .any(|&(place, among, missing)| Some(place) == next && among == ring && missing == 1);
        if told {
            Ok(())
        } else {
            Err(format!("lost {lost:?}, told {:?}", found.gaps))
        }
    }

    /// Wherever the ledger now says something else of a section or of what is left, it says that this is in doubt. Gives
    /// whether it says anything else at all.
    fn check_doubt(&self, found: &Found) -> Result<bool, String> {
        let (is, _) = found.ledger();
        let (was, _) = self.found.ledger();
        if is.pair() != was.pair() {
            // The beginning of the pair is what was lost: nothing of it is shown.
            return if is.is_open() && !is.steps().is_empty() {
                Err("marks of a pair whose beginning is lost were taken for another pair's".to_owned())
            } else {
                Ok(true)
            };
        }
        let doubted = |line: u8| {
            let mut marks = is.steps().iter().filter(|step| step.purpose == Purpose::Section(line));
            marks.any(|step| step.doubtful)
        };
        let mut other = false;
        for line in 0..24 {
            // The fibre on a lost label changes the uncertainty by less than anybody sees; the mass must not change.
            let (now, before) = (
                is.used(line).map(|used| used.value),
                was.used(line).map(|used| used.value),
            );
            other |= now != before;
            if now.is_some() && now != before && !doubted(line) {
                return Err(format!("section {line}: {now:?} instead of {before:?}, without doubt"));
            }
        }
        for yarn in YarnLetter::ALL {
            let (now, before) = (left(&is, yarn), left(&was, yarn));
            other |= now != before;
            if now != before && is.last(yarn).is_some_and(|step| !step.doubtful) {
                return Err(format!(
                    "yarn {yarn:?}: {now:?} left instead of {before:?}, without doubt"
                ));
            }
        }
        Ok(other)
    }

    /// The next record is noted and found again, and nothing else changes by that.
    fn check_goes_on(&self, journal: &mut Journal, flash: &mut SimFlash, found: &Found) -> Result<(), String> {
        let more = Record::Setting(Setting::SleepMinutes(23));
        let entry = journal
            .append(flash, Stamp(9_999), more)
            .map_err(|fault| format!("does not go on: {fault:?}"))?;
        let (_, again) = Found::open(flash).map_err(|fault| format!("does not open again: {fault:?}"))?;
        if !again.entries.contains(&entry) {
            return Err("what was noted after that is not there".to_owned());
        }
        match found.entries.iter().find(|entry| !again.entries.contains(entry)) {
            Some(lost) => Err(format!("going on took {lost:?}")),
            None => Ok(()),
        }
    }
}

fn left(ledger: &Ledger, yarn: YarnLetter) -> Option<i32> {
    ledger.last(yarn).map(|step| step.weight.net.value.0)
}
