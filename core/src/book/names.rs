//! Names that a computer gave to pairs and to their yarns.

use heapless::{Deque, String};

use crate::sock::YarnLetter;

/// The names that were given last: that of a pair, or of one of its yarns. All open pairs' own, with three yarns each.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Names {
    given: Deque<((u16, Option<YarnLetter>), String<24>), KEPT>,
}

/// Names that are kept.
const KEPT: usize = 32;

impl Names {
    /// A pair, or a yarn of it, is called this now. The name given longest ago gives way.
    pub(super) fn give(&mut self, pair: u16, yarn: Option<YarnLetter>, name: &String<24>) {
        if let Some((_, known)) = self.given.iter_mut().find(|(named, _)| *named == (pair, yarn)) {
            known.clone_from(name);
            return;
        }
        if self.given.is_full() {
            self.given.pop_front();
        }
        // There is room now.
        let _ = self.given.push_back(((pair, yarn), name.clone()));
    }

    /// What a pair, or a yarn of it, is called.
    pub(super) fn of(&self, pair: u16, yarn: Option<YarnLetter>) -> Option<&String<24>> {
        let named = self.given.iter().find(|(named, _)| *named == (pair, yarn));
        named.map(|(_, name)| name)
    }
}
