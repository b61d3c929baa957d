//! Zero bracketing: once the pan has been seen empty after a mark, the zero readings before and after correct it.

use heapless::Vec;

use super::dispatch::App;
use crate::journal::{Record, Sequence, Weight};
use crate::units::Milligrams;
use crate::weighing::SteadyLoad;

/// Marks of one stay on the pan that can be amended; a cake that is knitted from the pan rarely sees more.
const KEPT: usize = 4;

/// Corrections smaller than this are not worth a record.
const LEAST: Milligrams = Milligrams(2);

/// The marks made since the pan was last empty.
#[derive(Clone, Debug, Default)]
pub(super) struct Amending {
    marked: Vec<(Sequence, SteadyLoad), KEPT>,
}

impl Amending {
    /// Remembers the load behind a mark until the pan is empty.
    pub(super) fn remember(&mut self, of: Sequence, load: SteadyLoad) {
        if self.marked.is_full() {
            self.marked.remove(0);
        }
        // There is room now.
        let _ = self.marked.push((of, load));
    }

    /// Forgets a mark that was taken back.
    pub(super) fn forget(&mut self, of: Sequence) {
        self.marked.retain(|&(sequence, _)| sequence != of);
    }
}

impl App {
    /// Corrects the marks of the stay that has just ended.
    pub(super) fn amend(&mut self) {
        for (of, load) in core::mem::take(&mut self.amending.marked) {
            let Some(step) = self.ledger.step(of) else { continue };
            let Some(gross) = self.scale.amended(&load) else {
                continue;
            };
            let Weight { bowl, air, .. } = step.weight;
            let net = gross.minus(self.bowls.of(bowl));
            if (net.value - step.weight.net.value).abs() >= LEAST {
                self.note(Record::Amended {
                    of,
                    weight: Weight { net, bowl, air },
                });
            }
        }
    }
}
