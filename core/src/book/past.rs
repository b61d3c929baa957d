//! What a pair adds to the knitter's history.

use crate::ledger::{Ledger, Purpose};
use crate::sock::{PairRecord, SectionUse, Size};

/// What the pair adds to the history, as far as it is knitted. Sections beside a damaged record are left out.
pub(super) fn pair_record(ledger: &Ledger) -> PairRecord {
    let mut record = PairRecord::new(ledger.pair());
    for (line, place) in ledger.plan().lines.iter().zip(0_u8..) {
        let Some(used) = ledger.used(place) else { continue };
        record.add(line.kind, line.construction, ledger.size(*line), line.sock, used);
        let mut marks = ledger
            .steps()
            .iter()
            .filter(|step| step.purpose == Purpose::Section(place));
        if marks.any(|step| step.doubtful) {
            record.leave_out(line.kind, line.sock);
        }
    }
    record
}

/// The same from a pair that is closed and condensed.
pub(super) fn condensed_record(ledger: &Ledger, pair: u16, sections: &[SectionUse]) -> PairRecord {
    let mut record = PairRecord::new(pair);
    for section in sections {
        let line = section.line;
        let size = Size {
            stitches: line.stitches,
            ..ledger.size(line)
        };
        record.add(line.kind, line.construction, size, line.sock, section.used);
        if section.doubtful {
            record.leave_out(line.kind, line.sock);
        }
    }
    record
}
