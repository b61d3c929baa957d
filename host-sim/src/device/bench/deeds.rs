//! What the bench shows, and what was done on it, by its journal.

use yarn_scale_core::journal::{PairEvent, Record};
use yarn_scale_core::screen::{Body, Notice};

use super::Bench;

impl Bench {
    /// The screen now.
    #[must_use]
    pub fn body(&self) -> Body {
        self.app.view().body
    }

    /// The notice on the screen.
    ///
    /// # Panics
    /// If there is none.
    #[must_use]
    pub fn notice(&self) -> Notice {
        match self.body() {
            Body::Notice(notice) => notice,
            other => panic!("no notice, but {other:?}"),
        }
    }

    /// The records of the journal but for starts and visits, without their pair's number.
    #[must_use]
    pub fn deeds(&self) -> Vec<Record> {
        let deeds = self.journal.iter().map(|entry| without_pair(&entry.record));
        deeds
            .filter(|record| !matches!(record, Record::Started(_) | Record::Visit { .. }))
            .collect()
    }
}

/// A record as schema 1 said it, without its pair's number; one that schema 1 did not have stays as it is.
#[must_use]
pub fn without_pair(record: &Record) -> Record {
    let Record::OfPair { event, .. } = record else {
        return record.clone();
    };
    match event.clone() {
        PairEvent::LineChanged { index, line } => Record::LineChanged { index, line },
        PairEvent::WeighIn { yarn, weight } => Record::WeighIn { yarn, weight },
        PairEvent::Mark {
            line,
            yarn,
            weight,
            used_u: None,
        } => Record::Mark { line, yarn, weight },
        PairEvent::Mark {
            line,
            yarn,
            weight,
            used_u: Some(used_u),
        } => Record::SharedZeroMark {
            line,
            yarn,
            weight,
            used_u,
        },
        PairEvent::Unplanned { yarn, weight } => Record::Unplanned { yarn, weight },
        PairEvent::Amended { of, weight } => Record::Amended { of, weight },
        PairEvent::Undone { of } => Record::Undone { of },
        PairEvent::Skipped { line } => Record::Skipped { line },
        PairEvent::LateMark {
            line,
            yarn,
            weight,
            visited,
            before,
        } => Record::LateMark {
            line,
            yarn,
            weight,
            visited,
            before,
        },
        _ => record.clone(),
    }
}
