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
//! most). The Cortex-M0+ has a multiplier and no floating point; and every machine gives the same numbers.

use crate::math;
use crate::signal::segment::Segment;
use crate::units::FineCounts;

/// How many features there are.
pub const COUNT: usize = 31;

/// The features of one tick; sixteenths of a power of two, clipped.
pub type Features = [i8; COUNT];

/// What lies before the present segment.
#[derive(Clone, Copy, Debug, Default)]
pub struct Past {
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
pub struct Stretch {
    /// Its level.
    pub level: FineCounts,
    /// Its ticks, up to the segment's length.
    pub len: u16,
    /// Logarithm of its variance over the noise's.
    pub roughness: i8,
}

/// Takes the features of the newest tick of `segment`, for a noise of variance `variance` (sixteenths of a count, squared), a
/// correlation of `correlation` sixty-fourths and a tolerance of `tolerance` sixteenths of a count. `upwards` is +1 where more load
/// gives more counts, −1 where it gives fewer.
#[must_use]
#[inline(never)]
pub fn features(
    segment: &Segment,
    past: &Past,
    variance: u64,
    correlation: i8,
    tolerance: u32,
    upwards: i32,
) -> Features {
    let mut out: Features = [0; COUNT];
    let mut slots = out.iter_mut();
    let mut put = |value: i32| {
        if let Some(slot) = slots.next() {
            *slot = clip(value);
        }
    };
    let noise = logarithm(variance);
    let newest = segment.back(0);

    // Sums over growing windows, in one pass.
    let mut sum: i32 = 0;
    let mut squares: u64 = 0;
    let mut largest: u32 = 0;
    let mut at = [0_i32; LONGEST + 1];
    let mut value: i32 = 0;
    for (age, slot) in at.iter_mut().enumerate().skip(1) {
        let next = relative(segment.back(age), newest);
        largest = largest.max(value.abs_diff(next));
        sum = sum.wrapping_add(value);
        squares = squares.wrapping_add(square(value.unsigned_abs()));
        value = next;
        *slot = sum;
        if matches!(age, 2 | 3 | 4 | 6 | 8 | 12 | 16 | 24) {
            put(log_variance(sum, squares, age).wrapping_sub(noise));
        }
        if matches!(age, 1 | 3 | 7 | 15 | 23) {
            put(logarithm(square(largest)).wrapping_sub(noise));
        }
    }
    let sum_of = |n: usize| at.get(n).copied().unwrap_or_default();
    for half in [2_usize, 3, 4, 6, 8, 12] {
        let both = half.wrapping_mul(2);
        let apart = sum_of(half).wrapping_mul(2).wrapping_sub(sum_of(both));
        put(log_quotient(square(apart.unsigned_abs()), both).wrapping_sub(noise));
    }

    let len = segment.len();
    let level = segment.mean(len.min(8));
    put(logarithm(len as u64));
    put(logarithm(u64::from(past.lost_for)));
    put(logarithm(u64::from(past.before.len)));
    put(i32::from(past.before.roughness));
    let came = relative(level, past.before.level).wrapping_mul(upwards);
    put(signed(came, noise));
    put(signed(
        relative(past.before.level, past.earlier.level).wrapping_mul(upwards),
        noise,
    ));
    put(distance(past.trusted, level, noise));
    put(distance(past.expected, level, noise));
    put(noise.wrapping_sub(logarithm(u64::from(tolerance)).wrapping_mul(2)));
    put(logarithm(u64::from(came.unsigned_abs())).wrapping_sub(logarithm(u64::from(tolerance))));
    put(i32::from(correlation));
    // Before the step that began the segment, which takes four ticks: was a hand there?
    put(i32::from(roughness(segment, len.saturating_add(4), 6, variance)));
    out
}

/// Logarithm of the variance of the newest `n` ticks of `segment` over `variance`.
#[must_use]
pub fn roughness(segment: &Segment, skip: usize, n: usize, variance: u64) -> i8 {
    let reference = segment.back(skip);
    let (mut sum, mut squares) = (0_i32, 0_u64);
    for age in skip..skip.saturating_add(n) {
        let value = relative(segment.back(age), reference);
        sum = sum.wrapping_add(value);
        squares = squares.wrapping_add(square(value.unsigned_abs()));
    }
    clip(log_variance(sum, squares, n).wrapping_sub(logarithm(variance)))
}

/// 16 log2 of the variance of `n` values with these sums.
fn log_variance(sum: i32, squares: u64, n: usize) -> i32 {
    let n = n.max(2);
    let around = squares.saturating_sub(over(square(sum.unsigned_abs()), n));
    log_quotient(around, n.wrapping_sub(1))
}

/// Sixteenths of a count from `reference`, within ±2^21 (31 g on the finer cell), so that no sum of squares overflows.
fn relative(level: FineCounts, reference: FineCounts) -> i32 {
    level.0.wrapping_sub(reference.0).clamp(-REACH, REACH)
}

/// The square; by one instruction where it fits a word, as it does at rest.
fn square(size: u32) -> u64 {
    if size <= 0xFFFF {
        u64::from(size.wrapping_mul(size))
    } else {
        u64::from(size).wrapping_mul(u64::from(size))
    }
}

/// `value / n`.
fn over(value: u64, n: usize) -> u64 {
    math::over(value, n as u32)
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
    let (word, above) = upper(value);
    above.wrapping_add(word_logarithm(word))
}

/// The same of `value / n`, the part after the point dropped, in one division. A value that fills more than a word has more bits than
/// the logarithm looks at, even in the quotient of its upper word.
fn log_quotient(value: u64, n: usize) -> i32 {
    let (word, above) = upper(value);
    above.wrapping_add(word_logarithm(word.checked_div(n as u32).unwrap_or_default()))
}

/// The upper bits of `value`, as many as a word holds, and 16 log2 of what they stand above.
fn upper(value: u64) -> (u32, i32) {
    match u32::try_from(value) {
        Ok(word) => (word, 0),
        Err(_) => {
            let above = 32_u32.wrapping_sub(value.leading_zeros());
            let word = u32::try_from(value >> above).unwrap_or_default();
            (word, above.wrapping_mul(16).cast_signed())
        }
    }
}

fn word_logarithm(word: u32) -> i32 {
    if word == 0 {
        return 0;
    }
    let zeros = word.leading_zeros();
    let fraction = word.wrapping_shl(zeros) >> 27 & 15;
    31_u32
        .wrapping_sub(zeros)
        .wrapping_mul(16)
        .wrapping_add(fraction)
        .cast_signed()
}

fn clip(value: i32) -> i8 {
    i8::try_from(value.clamp(-127, 127)).unwrap_or_default()
}

const REACH: i32 = 1 << 21;
/// Ticks that are looked at.
const LONGEST: usize = 24;
