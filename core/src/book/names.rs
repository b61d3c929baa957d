//! Names that a computer gave to pairs and to their yarns.

use heapless::{Deque, String};

use crate::journal::{Named, PairEvent, Record};
use crate::sock::YarnLetter;

/// The names that were given last: that of a pair, or of one of its yarns. All open pairs' own, with three yarns each.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Names {
    given: Deque<((u16, Option<YarnLetter>), String<24>), KEPT>,
}

/// Names that are kept.
const KEPT: usize = 32;

impl Names {
    /// Learns from the next record; `begun` is the pair begun last. A yarn that goes on in another pair keeps its name.
    pub(super) fn learn(&mut self, record: &Record, begun: u16) {
        if let Record::Named { what, name } = record {
            let (pair, yarn) = match *what {
                Named::Pair(pair) => (pair, None),
                // Of schema 1.
                Named::Yarn(yarn) => (begun, Some(yarn)),
            };
            self.give(pair, yarn, name);
        } else if let Record::OfPair { pair, event } | Record::Kept { pair, event, .. } = record {
            if let PairEvent::YarnNamed { yarn, name } = event {
                self.give(*pair, Some(*yarn), name);
            } else if let PairEvent::Carried { yarn, from, was, .. } = event
                && let Some(name) = self.of(*from, Some(*was)).cloned()
            {
                self.give(*pair, Some(*yarn), &name);
            }
        }
    }

    /// A pair, or a yarn of it, is called this now. The name given longest ago gives way.
    fn give(&mut self, pair: u16, yarn: Option<YarnLetter>, name: &String<24>) {
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
