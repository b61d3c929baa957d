//! One beat for both sample rates, and no single wild word in it.
//!
//! At 10 conversions a second a tick is one conversion, at 80 it is the mean of eight: the same tenth of a second, about the same
//! noise, and a mean over 0.1 s takes the platform's ringing (8 to 20 Hz) down. Everything after this works in ticks.
//!
//! A word that stands alone is a flipped bit, a shifted word, a pattern that passed: a real change is still there one conversion
//! later, since the converter's own filter spreads every step over four. So a word far from a calm neighbourhood is held back
//! until the next one says what it was. While things move anyway, nothing is held.

use crate::converter::SampleRate;
use crate::units::{Counts, FineCounts};

/// Turns conversions into ticks.
#[derive(Clone, Debug)]
pub struct Ticker {
    conversions: i32,
    sum: i32,
    taken: i32,
    last: Option<i32>,
    calm: bool,
    held: Option<i32>,
}

/// The ticks that one conversion completed: none, one, or two when a held word turned out to be real.
pub type Ticks = heapless::Vec<FineCounts, 2>;

impl Ticker {
    /// A ticker for `rate`.
    #[must_use]
    pub const fn new(rate: SampleRate) -> Self {
        Self {
            conversions: match rate {
                SampleRate::Ten => 1,
                SampleRate::Eighty => 8,
            },
            sum: 0,
            taken: 0,
            last: None,
            calm: false,
            held: None,
        }
    }

    /// Takes one conversion. `gate` is the distance in counts beyond which a word does not fit a calm neighbourhood.
    pub fn take(&mut self, Counts(word): Counts, gate: i32) -> Ticks {
        let mut ticks = Ticks::new();
        let far = |from: i32| word.saturating_sub(from).saturating_abs() > gate;
        let Some(last) = self.last else {
            self.accept(word, true, &mut ticks);
            return ticks;
        };
        match self.held.take() {
            Some(_) if !far(last) => self.accept(word, true, &mut ticks),
            Some(held) => {
                self.accept(held, false, &mut ticks);
                self.accept(word, false, &mut ticks);
            }
            None if far(last) && self.calm => self.held = Some(word),
            None => self.accept(word, !far(last), &mut ticks),
        }
        ticks
    }

    /// Whether a word is being held back.
    #[must_use]
    pub const fn is_holding(&self) -> bool {
        self.held.is_some()
    }

    fn accept(&mut self, word: i32, calm: bool, ticks: &mut Ticks) {
        self.last = Some(word);
        self.calm = calm;
        self.sum = self.sum.saturating_add(word);
        self.taken = self.taken.saturating_add(1);
        if self.taken >= self.conversions {
            let mean = self.sum.saturating_mul(FineCounts::PER_COUNT).checked_div(self.taken);
            // Room is never short: one conversion completes at most one tick at 80 a second and two at 10.
            let _ = ticks.push(FineCounts(mean.unwrap_or_default()));
            self.sum = 0;
            self.taken = 0;
        }
    }
}
