//! A closed pair in short: what each section took. It outlives the marks that it was made from.

use heapless::Vec;

use super::{Ledger, Purpose};
use crate::journal::Record;
use crate::sock::{Line, MAX_LINES, SectionUse};

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
        // The pair's own stitches go with it: the next pair has others.
        let stitches = ledger.size(line).stitches;
        let line = Line { stitches, ..line };
        let section = SectionUse { line, used, doubtful };
        // A plan has at most as many lines as there are places.
        let _ = sections.push(section);
    }
    Record::Condensed {
        pair: ledger.pair(),
        sections,
    }
}
