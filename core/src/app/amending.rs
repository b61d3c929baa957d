//! What is learnt about a mark after it was noted: its load, as long as that lies on undisturbed and its mean takes in more and more
//! samples; and, once the pan has been seen empty, its zero.

use super::dispatch::App;
use crate::journal::{Record, Sequence};
use crate::sock::Weight;
use crate::units::Milligrams;
use crate::weighing::SteadyLoad;

/// Marks of one stay on the pan that can be amended; a cake that is knitted from the pan rarely sees more.
const KEPT: usize = 4;

/// Corrections smaller than this are not worth a record.
const LEAST: Milligrams = Milligrams(2);

/// The marks made since the pan was last empty, the last few of them.
#[derive(Clone, Debug, Default)]
pub(super) struct Amending {
    marked: [Option<Marked>; KEPT],
    next: usize,
}

#[derive(Clone, Copy, Debug)]
struct Marked {
    of: Sequence,
    /// The load that was noted.
    noted: SteadyLoad,
    /// The same as it is known by now.
    now: SteadyLoad,
}

impl Amending {
    /// Remembers the load behind a mark until the pan is empty.
    pub(super) fn remember(&mut self, of: Sequence, load: SteadyLoad) {
        if let Some(slot) = self.marked.get_mut(self.next & (KEPT - 1)) {
            *slot = Some(Marked {
                of,
                noted: load,
                now: load,
            });
        }
        self.next = self.next.wrapping_add(1);
    }

    /// Forgets a mark that was taken back.
    pub(super) fn forget(&mut self, of: Sequence) {
        for slot in &mut self.marked {
            slot.take_if(|marked| marked.of == of);
        }
    }

    /// The load that a mark of this stay noted.
    pub(super) fn noted(&self, of: Sequence) -> Option<&SteadyLoad> {
        let marked = self.marked.iter().flatten().find(|marked| marked.of == of);
        marked.map(|marked| &marked.noted)
    }
}

impl App {
    /// Keeps the marks' loads as they are known by now.
    pub(super) fn follow_marks(&mut self) {
        if self.amending.marked.iter().all(Option::is_none) {
            return;
        }
        let Some(now) = self.scale.steady() else { return };
        for marked in self.amending.marked.iter_mut().flatten() {
            if now.goes_on_from(&marked.now) {
                marked.now = now;
            }
        }
    }

    /// Corrects the marks of the stay that has just ended.
    pub(super) fn amend(&mut self) {
        for Marked { of, now: load, .. } in core::mem::take(&mut self.amending.marked).into_iter().flatten() {
            let Some(step) = self.book.ledger().step(of) else {
                continue;
            };
            let Some(gross) = self.scale.amended(&load) else {
                continue;
            };
            let Weight { bowl, air, .. } = step.weight;
            let net = gross.minus(self.book.bowls().of(bowl));
            if (net.value - step.weight.net.value).abs() >= LEAST {
                self.note(Record::Amended {
                    of,
                    weight: Weight { net, bowl, air },
                });
            }
        }
    }
}
