//! Records that stand until a later one of their kind replaces them, so that they must outlive the sectors they are in.

use super::pair_event::of_a_pair;
use super::{BenchCheck, Named, Record, Sequence, Setting};
use crate::sock::YARNS;

/// Bowls are numbered 1 to 9; 0 is not used.
const BOWLS: usize = 10;
const SETTINGS: usize = 12;
const CHECKS: usize = BenchCheck::ALL.len();
const ALONE: usize = 3;
const KINDS: usize = ALONE + BOWLS + SETTINGS + YARNS + YARNS + CHECKS;

/// The newest record of each standing kind.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing {
    newest: [Sequence; KINDS],
}

impl Standing {
    /// Nothing stands yet.
    pub(super) const fn new() -> Self {
        Self {
            newest: [Sequence(0); KINDS],
        }
    }

    /// Learns of a record in the journal.
    pub(super) fn learn(&mut self, sequence: Sequence, record: &Record) {
        if let Some(newest) = place(record).and_then(|place| self.newest.get_mut(place)) {
            *newest = sequence;
        }
    }

    /// The numbers of all records that stand and are older than `than`.
    pub(super) fn before(&self, than: Sequence) -> impl Iterator<Item = Sequence> + use<> {
        let newest = self.newest;
        newest
            .into_iter()
            .filter(move |&number| number > Sequence(0) && number < than)
    }
}

/// The place of a record's kind; `None` for what happened once and is past.
fn place(record: &Record) -> Option<usize> {
    let (begin, index) = match record {
        Record::Calibrated(_) => (0, 0),
        Record::ClockSet { .. } => (1, 0),
        Record::Control { .. } => (2, 0),
        Record::Bowl { number, .. } => (ALONE, usize::from(number.0).min(BOWLS - 1)),
        Record::Setting(setting) => (ALONE + BOWLS, setting_index(*setting)),
        Record::Yarn { letter, .. } => (ALONE + BOWLS + SETTINGS, letter.index()),
        Record::Named {
            what: Named::Yarn(letter),
            ..
        } => (ALONE + BOWLS + SETTINGS + YARNS, letter.index()),
        Record::Bench { check, .. } => (ALONE + BOWLS + SETTINGS + YARNS + YARNS, *check as usize),
        Record::Named {
            what: Named::Pair(_), ..
        }
        | of_a_pair!()
        | Record::Reserved
        | Record::Started(_)
        | Record::PairBegun { .. }
        | Record::Visit { .. }
        | Record::PairClosed { .. }
        | Record::Lost { .. }
        | Record::Condensed { .. }
        | Record::Checkpoint { .. } => return None,
    };
    Some(begin.saturating_add(index))
}

const fn setting_index(setting: Setting) -> usize {
    match setting {
        Setting::Unit(_) => 0,
        Setting::Language(_) => 1,
        Setting::Brightness(_) => 2,
        Setting::SleepMinutes(_) => 3,
        Setting::Sound(_) => 4,
        Setting::BowlInUse(_) => 5,
        Setting::CellCapacity(_) => 6,
        Setting::PanelOffset(_) => 7,
        Setting::Supply(_) => 8,
        Setting::LanguageAsked(_) => 9,
        Setting::PairInHand(_) => 10,
        Setting::KeptFrom(_) => 11,
    }
}
