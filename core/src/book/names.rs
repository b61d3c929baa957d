//! Names that a computer gave to pairs.

use heapless::{Deque, String};

use crate::ledger::KNOWN_PAIRS;

/// The names that were given last: as many as pairs can be known.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Names {
    given: Deque<(u16, String<24>), KNOWN_PAIRS>,
}

impl Names {
    /// A pair is called this now. The name given longest ago gives way.
    pub(super) fn give(&mut self, pair: u16, name: &String<24>) {
        if let Some((_, known)) = self.given.iter_mut().find(|(named, _)| *named == pair) {
            known.clone_from(name);
            return;
        }
        if self.given.is_full() {
            self.given.pop_front();
        }
        // There is room now.
        let _ = self.given.push_back((pair, name.clone()));
    }

    /// What a pair is called.
    pub(super) fn of(&self, pair: u16) -> Option<&String<24>> {
        let named = self.given.iter().find(|(named, _)| *named == pair);
        named.map(|(_, name)| name)
    }
}
