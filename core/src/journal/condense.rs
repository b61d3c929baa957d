//! A closed pair in short: what each section took. It outlives the marks that it was made from.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::Record;
use crate::ledger::{Ledger, Line, MAX_LINES, Purpose};
use crate::measured::Measured;

/// What one section of a closed pair took.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SectionUse {
    /// The section, as it stood in the plan.
    pub line: Line,
    /// What it took.
    pub used: Measured,
    /// A mark of it was in doubt.
    pub doubtful: bool,
}

/// The record of what the ledger's pair took, section by section; sections without a mark are left out.
#[must_use]
pub fn condense(ledger: &Ledger) -> Record {
    let mut sections: Vec<SectionUse, MAX_LINES> = Vec::new();
    for (index, &line) in (0..u8::MAX).zip(ledger.plan().lines.iter()) {
        let Some(used) = ledger.used(index) else { continue };
        let doubtful = ledger
            .steps()
            .iter()
            .any(|step| step.doubtful && step.purpose == Purpose::Section(index));
        let section = SectionUse { line, used, doubtful };
        // A plan has at most as many lines as there are places.
        let _ = sections.push(section);
    }
    Record::Condensed {
        pair: ledger.pair(),
        sections,
    }
}
