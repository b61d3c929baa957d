//! One beat for both sample rates, and no single wild word in it.
//!
//! At 10 conversions a second a tick is one conversion. At 80 the converter settles in 50 ms and passes the platform's ringing (8 to
//! 20 Hz), which decays over a second and more; so every eighth conversion makes a tick of the last 22, weighted as by three running
//! means of eight one after the other (0.1 s each, a sinc of third order). That takes the ringing down to a hundredth and settles
//! within 0.28 s, a third faster than the converter's own filter at 10 a second. Everything after this works in ticks of 0.1 s.
//!
//! A word that stands alone is a flipped bit, a shifted word, a pattern that passed: a real change is still there one conversion
//! later, since the converter's own filter spreads every step over four. So a word far from a calm neighbourhood is held back
//! until the next one says what it was. While things move anyway, nothing is held.

use crate::converter::SampleRate;
use crate::units::{Counts, FineCounts};

/// Turns conversions into ticks.
#[derive(Clone, Debug)]
pub(super) struct Decimator {
    rate: SampleRate,
    smoother: Smoother,
    last: Option<i32>,
    calm: bool,
    held: Option<i32>,
}

/// The ticks that one conversion completed: none, one, or two when a held word turned out to be real.
pub(super) type Ticks = heapless::Vec<FineCounts, 2>;

impl Decimator {
    /// A decimator for `rate`.
    #[must_use]
    pub(super) const fn new(rate: SampleRate) -> Self {
        Self {
            rate,
            smoother: Smoother::new(),
            last: None,
            calm: false,
            held: None,
        }
    }

    /// Takes one conversion. `gate` is the distance in counts beyond which a word does not fit a calm neighbourhood.
    pub(super) fn take(&mut self, Counts(word): Counts, gate: i32) -> Ticks {
        let mut ticks = Ticks::new();
        let far = |from: i32| word.saturating_sub(from).saturating_abs() > gate;
        let Some(last) = self.last else {
            self.accept(word, true, &mut ticks);
            return ticks;
        };
        match self.held.take() {
            // Another that does not fit would not stand alone: a pan that rings at half the rate of the words looks like that.
            Some(_) if !far(last) => self.accept(word, false, &mut ticks),
            Some(held) => {
                self.accept(held, false, &mut ticks);
                self.accept(word, false, &mut ticks);
            }
            None if far(last) && self.calm => self.held = Some(word),
            None => self.accept(word, !far(last), &mut ticks),
        }
        ticks
    }

    /// Whether the last word is held back, since it does not fit a calm neighbourhood; at 80 a second the next is there at once.
    #[must_use]
    pub(super) const fn holds(&self) -> bool {
        matches!(self.rate, SampleRate::Ten) && self.held.is_some()
    }

    /// Forgets what came before.
    pub(super) const fn interrupt(&mut self) {
        *self = Self::new(self.rate);
    }

    /// How far the last four conversions' mean is from `level` beyond one and a half times what the twelve before them were at most, in
    /// counts, where a tick is made of many: an early look at what the next ticks will say. Ringing comes out as nothing.
    #[must_use]
    pub(super) fn early(&self, level: Counts) -> i32 {
        match self.rate {
            SampleRate::Ten => 0,
            SampleRate::Eighty => self.smoother.surprise(level.0),
        }
    }

    fn accept(&mut self, word: i32, calm: bool, ticks: &mut Ticks) {
        self.last = Some(word);
        self.calm = calm;
        let tick = match self.rate {
            SampleRate::Ten => Some(Counts(word).fine()),
            SampleRate::Eighty => self.smoother.take(word),
        };
        if let Some(tick) = tick {
            // Room is never short: one conversion completes at most one tick at 80 a second and two at 10.
            let _ = ticks.push(tick);
        }
    }
}

/// Three running means of eight, one after the other, looked at after every eighth word.
#[derive(Clone, Debug)]
struct Smoother {
    words: [i32; TAPS],
    next: usize,
    taken: usize,
}

impl Smoother {
    const fn new() -> Self {
        Self {
            words: [0; TAPS],
            next: 0,
            taken: 0,
        }
    }

    fn surprise(&self, level: i32) -> i32 {
        let Some((newer, older)) = self.words.split_at_checked(self.next) else {
            return 0;
        };
        let newest_first = newer.iter().rev().chain(older.iter().rev());
        let mut apart = newest_first.map(|word| word.saturating_sub(level));
        let new = apart.by_ref().take(EARLY).fold(0_i32, i32::saturating_add) >> 2;
        let before = apart.take(3 * EARLY).map(i32::saturating_abs).max().unwrap_or_default();
        new.saturating_abs().saturating_sub(before.saturating_add(before >> 1))
    }

    fn take(&mut self, word: i32) -> Option<FineCounts> {
        if self.taken == 0 {
            self.words = [word; TAPS];
        }
        if let Some(slot) = self.words.get_mut(self.next) {
            *slot = word;
        }
        self.next = self.next.wrapping_add(1);
        if self.next >= TAPS {
            self.next = 0;
        }
        self.taken = self.taken.wrapping_add(1).max(1);
        if self.taken & (BLOCK - 1) != 0 {
            return None;
        }
        let (newer, older) = self.words.split_at_checked(self.next)?;
        let sum = older
            .iter()
            .chain(newer)
            .zip(&WEIGHTS)
            .fold(0_i64, |sum, (&word, &weight)| {
                sum.wrapping_add(i64::from(word).wrapping_mul(i64::from(weight)))
            });
        // The weights sum to 512 = 2^9, a count has 2^4 parts; the half rounds.
        let fine = sum.wrapping_add(1 << 4) >> 5;
        i32::try_from(fine).ok().map(FineCounts)
    }
}

/// Conversions of one running mean and of one tick.
const BLOCK: usize = 8;
/// Conversions of an early look.
const EARLY: usize = 4;
const TAPS: usize = 3 * BLOCK - 2;
/// Coefficients of (1 + x + ... + x^7)^3.
const WEIGHTS: [i16; TAPS] = [
    1, 3, 6, 10, 15, 21, 28, 36, 42, 46, 48, 48, 46, 42, 36, 28, 21, 15, 10, 6, 3, 1,
];
