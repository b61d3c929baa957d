//! What is learnt about a mark after it was noted: its load, as long as that lies on undisturbed and its mean takes in more and more
//! samples; and, once the pan has been seen empty, its zero.

use super::Book;
use crate::journal::{PairEvent, Record, Sequence};
use crate::sock::{BowlNumber, Weight, YarnLetter};
use crate::units::Milligrams;
use crate::weighing::{Scale, SteadyLoad};

/// Marks of one stay on the pan that can be amended, a power of two. A sock that is knitted from the pan in one sitting takes six, with the
/// weigh-in.
pub(crate) const KEPT_MARKS: usize = 8;

/// Corrections smaller than this are not worth a record.
const LEAST: Milligrams = Milligrams(2);

/// The marks made since the pan was last empty, the last few of them.
#[derive(Clone, Debug, Default)]
pub struct Stay {
    marked: [Option<Marked>; KEPT_MARKS],
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

impl Stay {
    /// Remembers the load behind a mark until the pan is empty.
    pub fn remember(&mut self, of: Sequence, load: SteadyLoad) {
        if let Some(slot) = self.marked.get_mut(self.next & (KEPT_MARKS - 1)) {
            *slot = Some(Marked {
                of,
                noted: load,
                now: load,
            });
        }
        self.next = self.next.wrapping_add(1);
    }

    /// Forgets a mark that was taken back.
    pub fn forget(&mut self, of: Sequence) {
        for slot in &mut self.marked {
            slot.take_if(|marked| marked.of == of);
        }
    }

    /// Keeps the marks' loads as they are known after the scale's newest sample.
    pub fn follow(&mut self, scale: &Scale) {
        if self.marked.iter().all(Option::is_none) {
            return;
        }
        let Some(now) = scale.steady() else { return };
        for marked in self.marked.iter_mut().flatten() {
            if now.goes_on_from(&marked.now) {
                marked.now = now;
            }
        }
    }

    /// The standard uncertainty of what has gone since the yarn's last weight, if that and `load` stand on one zero, mg.
    #[must_use]
    pub fn difference_u(
        &self,
        book: &Book,
        scale: &Scale,
        yarn: YarnLetter,
        bowl: Option<BowlNumber>,
        load: &SteadyLoad,
    ) -> Option<f32> {
        let last = book.ledger().last(yarn).filter(|last| last.weight.bowl == bowl)?;
        let marked = self.marked.iter().flatten().find(|marked| marked.of == last.sequence)?;
        scale.difference_u(&marked.noted, load)
    }

    /// A mark at `load`, with what is known of what went since the yarn's last weight.
    #[must_use]
    pub fn boundary(
        &self,
        book: &Book,
        scale: &Scale,
        (line, yarn, weight): (u8, YarnLetter, Weight),
        load: &SteadyLoad,
    ) -> Record {
        match self.difference_u(book, scale, yarn, weight.bowl, load) {
            Some(used_u) => Record::SharedZeroMark {
                line,
                yarn,
                weight,
                used_u,
            },
            None => Record::Mark { line, yarn, weight },
        }
    }

    /// Once the pan is empty: the next correction of a mark of the stay that has just ended, which is then forgotten; `None` after the last.
    pub fn amendment(&mut self, book: &Book, scale: &Scale) -> Option<Record> {
        while let Some(Marked { of, now: load, .. }) = self.marked.iter_mut().find_map(Option::take) {
            let (Some((pair, step)), Some(gross)) = (book.step(of), scale.amended(&load)) else {
                continue;
            };
            let net = gross.minus(book.bowls().of(step.weight.bowl));
            if (net.value - step.weight.net.value).abs() >= LEAST {
                let weight = Weight { net, ..step.weight };
                let event = PairEvent::Amended { of, weight };
                return Some(Record::OfPair { pair, event });
            }
        }
        None
    }
}

const _: () = assert!(KEPT_MARKS.is_power_of_two());
