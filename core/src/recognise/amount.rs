//! What a section takes, as a distribution: log-normal parts, since sections differ by factors, and no yarn is used backwards.

use super::habits::{Habits, SPREADS};
use super::pair_size::PairSize;
use crate::math::{exp, ln, sqrt};
use crate::sock::{SectionKind, a_part};
use crate::units::Milligrams;

/// From what an amount is expected, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// The same section of the other sock.
    OtherSock,
    /// This knitter's earlier pairs.
    History,
    /// Stitches and gauge.
    Estimate,
    /// What such sections usually take.
    Usual,
}

/// What a section will likely take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// The median, mg, above zero.
    pub expected: f32,
    /// From what it is known.
    pub source: Source,
    /// Weight and standard deviation of the logarithm of each part.
    parts: [(f32, f32); 3],
}

impl Amount {
    /// As the same section of the other sock, which took `used`; `None` if that says nothing.
    #[must_use]
    pub fn as_other_sock(used: Milligrams, u: f32, habits: Habits) -> Option<Self> {
        let expected = used.0 as f32;
        let known = u / expected.max(1.0);
        let [even, usual, loose] = SPREADS.map(|spread| sqrt(spread * spread + known * known));
        let [is_even, is_usual, is_loose] = habits.weights();
        (used.0 > 0).then_some(Self {
            expected,
            source: Source::OtherSock,
            parts: [(is_even, even), (is_usual, usual), (is_loose, loose)],
        })
    }

    /// By a forecast with this standard deviation, both mg, that rests on so many pairs, one at least: the fewer, the less its deviation is known.
    #[must_use]
    pub fn by_history(expected: f32, deviation: f32, pairs: u8) -> Option<Self> {
        let spread = (deviation / expected.max(1.0)).max(LEAST_OF_HISTORY);
        let wide = 1.0 + 2.0 / f32::from(pairs);
        (expected >= 1.0).then_some(Self {
            expected,
            source: Source::History,
            parts: [(0.70, spread), (0.25, wide * spread), (0.05, 2.0 * wide * spread)],
        })
    }

    /// By stitches and gauge: the gauge is rarely the knitter's own, and rounds are as usual (assumption, no source).
    #[must_use]
    pub fn by_estimate(expected: Milligrams) -> Option<Self> {
        (expected.0 > 0).then_some(Self {
            expected: expected.0 as f32,
            source: Source::Estimate,
            parts: [(0.40, 0.25), (0.40, 0.45), (0.20, 0.80)],
        })
    }

    /// What a section of an adult's sock in four-ply yarn takes, roughly: enough to tell a cake of 100 g from one of 20 g. Length by 15 to
    /// 20 %, circumference by 10 % and yarn by 8 % make some 25 % together; children's and knee socks lie further out (common practice, no
    /// source).
    #[must_use]
    pub fn usual(kind: SectionKind) -> Self {
        let section = [(0.75, 0.25), (0.20, 0.45), (0.05, 0.80)];
        // A part of what is no sock may be anything.
        let anything = [(0.50, 0.60), (0.30, 1.00), (0.20, 2.00)];
        let (grams, parts): (u8, _) = match kind {
            SectionKind::Cuff | SectionKind::Toe => (5, section),
            SectionKind::Leg | SectionKind::Foot => (15, section),
            SectionKind::Heel => (7, section),
            SectionKind::Gusset => (4, section),
            a_part!() => (15, anything),
        };
        Self {
            expected: 1_000.0 * f32::from(grams),
            source: Source::Usual,
            parts,
        }
    }

    /// The same, once other sections of the pair are finished.
    #[must_use]
    pub fn in_pair(self, size: &PairSize) -> Self {
        let parts = self.parts.map(|(weight, spread)| (weight * size.fits(spread), spread));
        let sum: f32 = parts.iter().map(|(weight, _)| weight).sum();
        // What fits no part tells them apart no better than before.
        let [one, two, three] = if sum > f32::MIN_POSITIVE {
            parts.map(|(weight, spread)| (weight / sum, spread))
        } else {
            self.parts
        };
        Self {
            expected: self.expected * size.factor(),
            parts: [one, two, three].map(|(weight, spread)| (weight, spread * size.narrows())),
            ..self
        }
    }

    /// Two sections together: the parts are a knitter's habit, which both share, and chance, which evens out.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        let expected = self.expected + other.expected;
        let [first, second] = [self, other].map(|amount| amount.expected / expected);
        let both = |(weight, one): (f32, f32), (_, two): (f32, f32)| {
            let (one, two) = (one * first, two * second);
            (weight, sqrt(one * one + two * two))
        };
        let [a, b, c] = self.parts;
        let [x, y, z] = other.parts;
        Self {
            expected,
            source: if self.source as u8 >= other.source as u8 {
                self.source
            } else {
                other.source
            },
            parts: [both(a, x), both(b, y), both(c, z)],
        }
    }

    /// Probability density of `used` mg, per mg, weighed with a standard uncertainty of `u` mg.
    #[must_use]
    pub fn density(&self, used: f32, u: f32) -> f32 {
        if used < 1.0 {
            return 0.0;
        }
        // Of what is much less than the section takes, the weighing's uncertainty is that of the section, not of the little.
        let (apart, blur) = (ln(used / self.expected), u / used.max(self.expected));
        let part = |&(weight, spread): &(f32, f32)| {
            let variance = spread * spread + blur * blur;
            weight * exp(-0.5 * apart * apart / variance) / sqrt(variance)
        };
        self.parts.iter().map(part).sum::<f32>() * ONE_OVER_ROOT_TAU / used
    }

    /// Density of what was used if the press came too early, at any moment of the first part of the section alike: that of an amount is the
    /// chance that this part takes more, shared out over all that it takes.
    #[must_use]
    pub fn unfinished(&self, used: f32) -> f32 {
        if used < 1.0 {
            return 0.0;
        }
        let part_of = TOO_EARLY * self.expected;
        let apart = ln(used / part_of);
        // The logistic curve, nowhere more than 0.01 from the normal distribution (Johnson and Kotz; from memory).
        let part = |&(weight, spread): &(f32, f32)| weight / (1.0 + exp(1.702 * apart / spread));
        self.parts.iter().map(part).sum::<f32>() / part_of
    }

    /// Mean of what `of` makes of the standard deviation of what it takes, mg, over the parts.
    #[must_use]
    pub fn over_deviations(&self, of: impl Fn(f32) -> f32) -> f32 {
        let part = |&(weight, spread): &(f32, f32)| weight * of(self.expected * spread);
        self.parts.iter().map(part).sum()
    }
}

/// Who presses later than after this part of a section means its end (assumption, no source).
const TOO_EARLY: f32 = 0.6;

/// No records of a hand make the next section surer than this.
const LEAST_OF_HISTORY: f32 = 0.08;

const ONE_OVER_ROOT_TAU: f32 = 0.398_942_3;
