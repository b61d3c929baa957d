//! What the last seconds look like, in a few dozen small numbers for the [judge](super::steadiness).
//!
//! A still hand differs from rest only by a little more variance than this unit's noise, spread over 0.2 to 0.6 s; a ringing
//! platform by a little more from tick to tick; a tug by where the level came from. So the features are ratios: variances over
//! several windows, differences of half windows, largest steps, each over the unit's own noise; then the history of the segment: how
//! far and whence the level came, how long and how rough the stretch before was, how far it is from the last level that was trusted
//! and from the level of the empty pan.
//!
//! Everything is integer arithmetic on sixteenths of a count, and ratios are differences of logarithms: a logarithm to base 2 in
//! steps of 1/16 comes from the position of the leading bit and the four bits after it (linear between powers of two, 0.09 off at
//! most). Every machine gives the same numbers.

use crate::signal::segment::Segment;
use crate::units::FineCounts;

/// Names what the judge sees, in the order in which it stands in the trees' tables.
macro_rules! features {
    ($($(#[doc = $meaning:literal])* $name:ident,)+) => {
        /// What the judge sees of one tick.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Feature {
            $($(#[doc = $meaning])* $name,)+
        }

        impl Feature {
            /// All of them, in the order of the tables.
            pub const ALL: [Self; COUNT] = [$(Self::$name,)+];

            /// A hash of their names in their order (FNV-1a, 32 bits; draft-eastlake-fnv): trees grown for another order do not compile.
            pub const LAYOUT: u32 = hash(&[$(stringify!($name),)+]);
        }

        /// How many features there are.
        pub const COUNT: usize = [$(Feature::$name,)+].len();
    };
}

features! {
    /// Largest step between neighbours among the newest 2 ticks.
    Step1,
    /// Variance of the newest 2 ticks.
    Variance2,
    /// Variance of the newest 3 ticks.
    Variance3,
    /// Largest step between neighbours among the newest 4 ticks.
    Step3,
    /// Variance of the newest 4 ticks.
    Variance4,
    /// Variance of the newest 6 ticks.
    Variance6,
    /// Largest step between neighbours among the newest 8 ticks.
    Step7,
    /// Variance of the newest 8 ticks.
    Variance8,
    /// Variance of the newest 12 ticks.
    Variance12,
    /// Largest step between neighbours among the newest 16 ticks.
    Step15,
    /// Variance of the newest 16 ticks.
    Variance16,
    /// Largest step between neighbours among the newest 24 ticks.
    Step23,
    /// Variance of the newest 24 ticks.
    Variance24,
    /// The newest 2 ticks against the 2 before.
    Halves2,
    /// The newest 3 ticks against the 3 before.
    Halves3,
    /// The newest 4 ticks against the 4 before.
    Halves4,
    /// The newest 6 ticks against the 6 before.
    Halves6,
    /// The newest 8 ticks against the 8 before.
    Halves8,
    /// The newest 12 ticks against the 12 before.
    Halves12,
    /// Ticks of the segment.
    Length,
    /// Ticks since a level was last trusted.
    LostFor,
    /// Ticks of the stretch before.
    LengthBefore,
    /// Variance of the stretch before.
    RoughnessBefore,
    /// How far and whence the level came from the stretch before.
    Came,
    /// How far and whence that one came from its own stretch before.
    CameBefore,
    /// How far the level is from the last that was trusted.
    FromTrusted,
    /// How far it is from the empty pan's.
    FromExpected,
    /// The unit's noise over the tolerance.
    Noise,
    /// How far the level came, over the tolerance.
    CameOverTolerance,
    /// How far neighbouring ticks resemble each other.
    Correlation,
    /// Variance of the 6 ticks before the step that began the segment, which takes four: was a hand there?
    RoughnessAtArrival,
}

/// The features of one tick, by [`Feature`]; sixteenths of a power of two, clipped.
pub type Features = [i8; COUNT];

/// What lies before the present segment.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Past {
    /// Level of the last stretch of at least three ticks without a jump.
    pub before: Stretch,
    /// The one before that.
    pub earlier: Stretch,
    /// Last level that was trusted.
    pub trusted: Option<FineCounts>,
    /// Ticks since it was lost.
    pub lost_for: u16,
    /// Level that is likely: that of the empty pan.
    pub expected: Option<FineCounts>,
}

/// A stretch of ticks without a jump.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Stretch {
    /// Its level.
    pub level: FineCounts,
    /// Its ticks, up to the segment's length.
    pub len: u16,
    /// Logarithm of its variance over the noise's.
    pub roughness: i8,
}

/// What the features are measured by.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measure {
    /// Variance of a tick at rest, square sixteenths of a count.
    pub variance: u64,
    /// Correlation of neighbouring ticks, sixty-fourths.
    pub correlation: i8,
    /// How far a level may be off, sixteenths of a count.
    pub tolerance: u32,
    /// +1 where more load gives more counts, −1 where it gives fewer.
    pub upwards: i32,
}

/// Takes the features of the newest tick of `segment`.
#[must_use]
pub(super) fn features(segment: &Segment, past: &Past, by: &Measure) -> Features {
    use Feature::*;
    let mut out: Features = [0; COUNT];
    let mut put = |feature: Feature, value: i32| {
        if let Some(slot) = out.get_mut(feature as usize) {
            *slot = clip(value);
        }
    };
    let noise = logarithm(by.variance);
    let tolerance = logarithm(u64::from(by.tolerance));

    for (feature, n) in [
        (Variance2, 2),
        (Variance3, 3),
        (Variance4, 4),
        (Variance6, 6),
        (Variance8, 8),
        (Variance12, 12),
        (Variance16, 16),
        (Variance24, 24),
    ] {
        put(feature, i32::from(roughness(segment, 0, n, by.variance)));
    }
    for (feature, steps) in [(Step1, 1), (Step3, 3), (Step7, 7), (Step15, 15), (Step23, 23)] {
        put(
            feature,
            logarithm(square(largest_step(segment, steps))).wrapping_sub(noise),
        );
    }
    for (feature, half) in [
        (Halves2, 2),
        (Halves3, 3),
        (Halves4, 4),
        (Halves6, 6),
        (Halves8, 8),
        (Halves12, 12),
    ] {
        put(feature, halves(segment, half).wrapping_sub(noise));
    }

    let len = segment.len();
    let level = segment.mean(len.min(8));
    let came = relative(level, past.before.level).wrapping_mul(by.upwards);
    let came_before = relative(past.before.level, past.earlier.level).wrapping_mul(by.upwards);
    put(Length, logarithm(len as u64));
    put(LostFor, logarithm(u64::from(past.lost_for)));
    put(LengthBefore, logarithm(u64::from(past.before.len)));
    put(RoughnessBefore, i32::from(past.before.roughness));
    put(Came, signed(came, noise));
    put(CameBefore, signed(came_before, noise));
    put(FromTrusted, distance(past.trusted, level, noise));
    put(FromExpected, distance(past.expected, level, noise));
    put(Noise, noise.wrapping_sub(tolerance.wrapping_mul(2)));
    put(
        CameOverTolerance,
        logarithm(u64::from(came.unsigned_abs())).wrapping_sub(tolerance),
    );
    put(Correlation, i32::from(by.correlation));
    put(
        RoughnessAtArrival,
        i32::from(roughness(segment, len.saturating_add(4), 6, by.variance)),
    );
    out
}

/// Logarithm of the variance of the `n` ticks of `segment` before the newest `skip`, over `variance`.
#[must_use]
pub(super) fn roughness(segment: &Segment, skip: usize, n: usize, variance: u64) -> i8 {
    let reference = segment.back(skip);
    let (mut sum, mut squares) = (0_i32, 0_u64);
    for age in skip..skip.saturating_add(n) {
        let value = relative(segment.back(age), reference);
        sum = sum.wrapping_add(value);
        squares = squares.wrapping_add(square(value.unsigned_abs()));
    }
    let around = squares.saturating_sub(over(square(sum.unsigned_abs()), n));
    clip(logarithm(over(around, n.saturating_sub(1))).wrapping_sub(logarithm(variance)))
}

/// The largest of the newest `steps` steps from tick to tick, sixteenths of a count.
fn largest_step(segment: &Segment, steps: usize) -> u32 {
    let newest = segment.back(0);
    let value = |age| relative(segment.back(age), newest);
    let step = |age: usize| value(age).abs_diff(value(age.wrapping_add(1)));
    (0..steps).map(step).max().unwrap_or_default()
}

/// Logarithm of the square of the difference of two halves of `half` ticks each, over all their ticks.
fn halves(segment: &Segment, half: usize) -> i32 {
    let newest = segment.back(0);
    let sum = |from: usize| {
        (from..from.wrapping_add(half))
            .map(|age| relative(segment.back(age), newest))
            .fold(0, i32::wrapping_add)
    };
    let apart = sum(0).wrapping_sub(sum(half));
    logarithm(over(square(apart.unsigned_abs()), half.wrapping_mul(2)))
}

/// Sixteenths of a count from `reference`, within ±2^21 (31 g on the finer cell), so that no sum of squares overflows.
fn relative(level: FineCounts, reference: FineCounts) -> i32 {
    level.0.wrapping_sub(reference.0).clamp(-REACH, REACH)
}

fn square(size: u32) -> u64 {
    u64::from(size).wrapping_mul(u64::from(size))
}

/// `value / n`, the part after the point dropped.
fn over(value: u64, n: usize) -> u64 {
    value.checked_div(n as u64).unwrap_or_default()
}

/// How far `level` is from a level that is `known`, over the noise; the clip's end where none is.
fn distance(known: Option<FineCounts>, level: FineCounts, noise: i32) -> i32 {
    known.map_or(i32::MAX, |known| {
        logarithm(square(relative(level, known).unsigned_abs())).wrapping_sub(noise)
    })
}

/// Twice the logarithm of a change over a quarter of the noise, with the sign of the change, halved: 0 for what is hidden in it.
fn signed(change: i32, noise: i32) -> i32 {
    let size = logarithm(square(change.unsigned_abs()))
        .wrapping_sub(noise)
        .wrapping_add(64)
        .max(0)
        >> 1;
    if change < 0 { size.wrapping_neg() } else { size }
}

/// 16 log2 of `value`, linear between powers of two; 0 for 0.
fn logarithm(value: u64) -> i32 {
    let Some(power) = value.checked_ilog2() else { return 0 };
    // The leading bit goes to the top, and the four after it are the fraction.
    let fraction = value.wrapping_shl(value.leading_zeros()) >> 59 & 15;
    i32::try_from(u64::from(power).wrapping_mul(16).wrapping_add(fraction)).unwrap_or(i32::MAX)
}

fn clip(value: i32) -> i8 {
    i8::try_from(value.clamp(-127, 127)).unwrap_or_default()
}

/// FNV-1a of some names, each with an end.
const fn hash(names: &[&str]) -> u32 {
    let mut hash: u32 = 0x811C_9DC5;
    let mut rest = names;
    while let [name, others @ ..] = rest {
        let mut bytes = name.as_bytes();
        while let [byte, more @ ..] = bytes {
            hash = (hash ^ *byte as u32).wrapping_mul(0x0100_0193);
            bytes = more;
        }
        hash = (hash ^ b'\n' as u32).wrapping_mul(0x0100_0193);
        rest = others;
    }
    hash
}

const REACH: i32 = 1 << 21;
