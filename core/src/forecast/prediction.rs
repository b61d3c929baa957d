//! What sections will take together, and how sure that is.
//!
//! With `y = mean + pair + sock` for a section, the pair's part is shared by both socks and, partly, by all sections of the
//! pair. Adding up interval by interval would therefore be wrong both ways. Here the wanted sum is formed in each past pair
//! and the spread of those sums is used, which holds whatever the correlations are:
//!
//! - sections wanted on both socks, or on one, sock 1 not knitted: `m` = wanted sum from the pair's mean sections, over `n`
//!   pairs with deviation `s`. Both socks of a new pair vary as the past sums did; one sock alone varies by half the variance
//!   `w` between the socks of a pair more than the mean of two. Variance of the forecast error: `s^2 (1 + 1/n) + w/2`, less what
//!   weighing added to the records.
//! - sections of sock 2 whose sock 1 is knitted: sock 1's sum, and the mean square of the past differences of two socks.
//!
//! Degrees of freedom of a sum of variances: Welch and Satterthwaite (GUM G.4.1).

use super::past_pair::{difference_of, sum_of};
use super::spread::Spread;
use super::student::student_quantile;
use super::wanted::Wanted;
use crate::math::{sqrt, whole};
use crate::measured::Measured;
use crate::sock::History;

/// An expected mass with the variance of the error of that forecast.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Prediction {
    /// What it will take, mg.
    pub expected: f32,
    /// Variance of the error, mg squared.
    pub variance: f32,
    /// Its degrees of freedom; infinite if it is known.
    pub freedom: f32,
    /// Pairs it rests on, the fewest of its parts.
    pub pairs: u8,
    /// A record was scaled to another stitch count, number of rounds or yarn.
    pub scaled: bool,
}

impl Prediction {
    /// Nothing, exactly: what a sum begins with.
    pub const NOTHING: Self = Self {
        expected: 0.0,
        variance: 0.0,
        freedom: f32::INFINITY,
        pairs: u8::MAX,
        scaled: false,
    };

    /// A forecast of the sum of two sections, or groups of sections, that vary independently.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        let variance = self.variance + other.variance;
        let spent = self.spent() + other.spent();
        Self {
            expected: self.expected + other.expected,
            variance,
            freedom: if spent > 0.0 {
                variance * variance / spent
            } else {
                f32::INFINITY
            },
            pairs: self.pairs.min(other.pairs),
            scaled: self.scaled || other.scaled,
        }
    }

    /// What the part takes of the sum's degrees of freedom; a part that does not vary takes none, however little is known.
    fn spent(self) -> f32 {
        if self.variance > 0.0 {
            self.variance * self.variance / self.freedom
        } else {
            0.0
        }
    }

    /// The same forecast compared with something whose standard uncertainty is `u` mg.
    #[must_use]
    pub fn against(self, u: f32) -> Self {
        self.plus(Self {
            variance: u * u,
            ..Self::NOTHING
        })
    }

    /// How far above the expected mass it stays with probability `p`, mg.
    #[must_use]
    pub fn reserve(self, p: f32) -> f32 {
        if self.variance.is_nan() {
            // Of what is not even known to be uncertain nothing can be enough.
            f32::MAX
        } else if self.variance > 0.0 {
            student_quantile(p, self.freedom) * sqrt(self.variance)
        } else {
            0.0
        }
    }
}

impl History {
    /// What the wanted sections take by the pairs that had them all, in the same constructions.
    ///
    /// `None` if no pair had, or if none are wanted.
    #[must_use]
    pub fn predict<'a>(&self, wanted: impl Iterator<Item = &'a Wanted> + Clone) -> Option<Prediction> {
        wanted.clone().next()?;
        let mut sums = Spread::default();
        let mut between_socks = Mean::default();
        let mut doubt = Mean::default();
        let mut doubt_of_one = Mean::default();
        let mut single = Mean::default();
        let mut scaled = false;
        for pair in self.pairs() {
            let Some(sum) = sum_of(pair, wanted.clone()) else {
                continue;
            };
            sums.add(sum.mass);
            doubt.add(sum.doubt);
            doubt_of_one.add(sum.doubt_of_one);
            single.add(if sum.single { 1.0 } else { 0.5 });
            scaled |= sum.scaled;
            if let Some(difference) = sum.difference {
                between_socks.add(0.5 * difference * difference);
            }
        }
        let count = u8::try_from(sums.count()).unwrap_or(u8::MAX);
        if count == 0 {
            return None;
        }
        // What is knitted next varies without the weighings' part in the spread of the records; yet never less than the records'
        // own uncertainty: three alike by chance are not certain.
        let spread = sums.variance_of_next();
        let variance = without(doubt.value(), spread).max(doubt.value());
        let by_pairs = Prediction {
            expected: sums.mean(),
            variance,
            freedom: sums.freedom(),
            pairs: count,
            scaled,
        };
        let one_alone = Prediction {
            variance: (1.0 - single.value()) * without(2.0 * doubt_of_one.value(), between_socks.value()),
            freedom: between_socks.count,
            ..Prediction::NOTHING
        };
        Some(by_pairs.plus(one_alone))
    }

    /// What sections of sock 2 take whose sock 1 is knitted. `pairs` of the result counts the past pairs whose two socks
    /// could be compared; it may be 0.
    ///
    /// Sections without a `first` are passed over.
    #[must_use]
    pub fn predict_second<'a>(&self, wanted: impl Iterator<Item = &'a Wanted> + Clone) -> Prediction {
        let first = wanted.clone().filter_map(|wanted| wanted.first);
        let first = first.fold(Measured::default(), Measured::plus);
        let mut squares = Mean::default();
        let mut doubt = Mean::default();
        let mut scaled = false;
        for pair in self.pairs() {
            if let Some(found) = difference_of(pair, wanted.clone()) {
                squares.add(found.difference * found.difference);
                doubt.add(found.doubt);
                scaled |= found.scaled;
            }
        }
        Prediction {
            expected: first.value.0 as f32,
            variance: without(doubt.value(), squares.value()).max(2.0 * first.u * first.u),
            freedom: squares.count,
            pairs: u8::try_from(whole(squares.count)).unwrap_or(u8::MAX),
            scaled,
        }
    }
}

/// A variance without the part that weighing has in it; at least three quarters of it, lest an uncertainty that was stated too
/// large makes the forecast too sure.
fn without(weighing: f32, variance: f32) -> f32 {
    (variance - weighing).max(0.75 * variance)
}

/// A running mean.
#[derive(Default)]
struct Mean {
    sum: f32,
    count: f32,
}

impl Mean {
    fn add(&mut self, value: f32) {
        self.sum += value;
        self.count += 1.0;
    }

    fn value(&self) -> f32 {
        if self.count > 0.0 { self.sum / self.count } else { 0.0 }
    }
}
