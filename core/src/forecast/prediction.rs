//! What sections will take together, and how sure that is.
//!
//! With `y = mean + pair + sock` for a section, the pair's part is shared by both socks and, partly, by all sections of the
//! pair. Adding up interval by interval would therefore be wrong both ways. Here the wanted sum is formed in each past pair
//! and the spread of those sums is used, which holds whatever the correlations are:
//!
//! - sections wanted on both socks, or on one, sock 1 not knitted: `m` = wanted sum from the pair's mean sections, over `n`
//!   pairs with deviation `s`. Both socks of a new pair vary as the past sums did; one sock alone varies by half the variance
//!   `w` between the socks of a pair more than the mean of two. Variance of the forecast error: `s^2 (1 + 1/n) + w/2`.
//! - sections of sock 2 whose sock 1 is knitted: sock 1's sum, and the mean square of the past differences of two socks.
//!
//! Degrees of freedom of a sum of variances: Welch and Satterthwaite (GUM G.4.1).

use super::history::{History, KindRecord, PairRecord};
use super::size::Shape;
use super::spread::Spread;
use super::student::student_quantile;
use super::wanted::{Socks, Wanted};
use crate::math::sqrt;
use crate::measured::Measured;
use crate::section::Sock;

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
        if self.variance > 0.0 {
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
        let mut single = Mean::default();
        let mut scaled = false;
        for pair in self.pairs() {
            let Some(sum) = sum_of(pair, wanted.clone()) else {
                continue;
            };
            sums.add(sum.mass);
            doubt.add(sum.doubt);
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
        // Never less than the records' own uncertainty: three alike by chance are not certain.
        let variance = sums.variance().max(doubt.value()) * (1.0 + 1.0 / f32::from(count));
        let by_pairs = Prediction {
            expected: sums.mean(),
            variance,
            freedom: sums.freedom(),
            pairs: count,
            scaled,
        };
        let one_alone = Prediction {
            variance: (1.0 - single.value()).max(0.0) * between_socks.value(),
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
        let mut scaled = false;
        for pair in self.pairs() {
            let differences = wanted.clone().map(|wanted| {
                let record = pair.kind(wanted.kind, wanted.construction)?;
                let difference = record
                    .used(Sock::Second)?
                    .value
                    .0
                    .saturating_sub(record.used(Sock::First)?.value.0);
                scaled |= wanted.size.differs(record.size);
                Some(difference as f32 * multiple(wanted, record))
            });
            if let Some(sum) = differences.sum::<Option<f32>>() {
                squares.add(sum * sum);
            }
        }
        Prediction {
            expected: first.value.0 as f32,
            variance: squares.value().max(2.0 * first.u * first.u),
            freedom: squares.count,
            pairs: squares.count as u8,
            scaled,
        }
    }
}

/// The wanted sum as a past pair had it.
struct Sum {
    mass: f32,
    /// Its variance by the weighings alone.
    doubt: f32,
    /// Sock 1 minus sock 2 of the sections that are wanted on one sock, where both were weighed.
    difference: Option<f32>,
    /// All sections that are wanted on one sock were weighed on one sock only.
    single: bool,
    scaled: bool,
}

fn sum_of<'a>(pair: &PairRecord, wanted: impl Iterator<Item = &'a Wanted>) -> Option<Sum> {
    let mut sum = Sum {
        mass: 0.0,
        doubt: 0.0,
        difference: Some(0.0),
        single: true,
        scaled: false,
    };
    for wanted in wanted {
        let record = pair.kind(wanted.kind, wanted.construction)?;
        let multiple = multiple(wanted, record);
        // Mass of one sock's section, its variance by weighing, and the difference of the two socks.
        let (mass, doubt, difference) = match (record.used(Sock::First), record.used(Sock::Second)) {
            (Some(first), Some(second)) => {
                let [first_mg, second_mg] = [first, second].map(|used| used.value.0 as f32);
                let doubt = 0.25 * (first.u * first.u + second.u * second.u);
                (0.5 * (first_mg + second_mg), doubt, Some(first_mg - second_mg))
            }
            (Some(one), None) | (None, Some(one)) => (one.value.0 as f32, one.u * one.u, None),
            (None, None) => return None,
        };
        let times = f32::from(wanted.socks.count()) * multiple;
        sum.mass += times * mass;
        sum.doubt += times * times * doubt;
        sum.scaled |= wanted.size.differs(record.size);
        if wanted.socks == Socks::One {
            sum.single &= difference.is_none();
            sum.difference = sum.difference.zip(difference).map(|(sum, one)| sum + multiple * one);
        }
    }
    Some(sum)
}

/// What one sock's record is multiplied by to stand for one sock of the wanted section.
fn multiple(wanted: &Wanted, record: &KindRecord) -> f32 {
    wanted.size.multiple_of(record.size, Shape::of(wanted.kind)) / f32::from(wanted.parts.max(1))
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
