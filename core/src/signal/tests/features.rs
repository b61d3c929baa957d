//! What the judge of steadiness sees, against the same worked out at leisure: mean squares about the mean in exact integers, logarithms
//! from the number of bits.

use std::prelude::rust_2024::*;

use crate::signal::features::{COUNT, Feature, Features, Measure, Past, Stretch, features, roughness};
use crate::signal::noise::Noise;
use crate::signal::segment::{LENGTH, Segment};
use crate::units::FineCounts;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// Sixteenths of a power of two, linear between powers, rounded down; 0 for nothing.
fn logarithm(value: i128) -> i32 {
    if value < 1 {
        return 0;
    }
    let power = value.ilog2();
    let beyond = value - (1 << power);
    16 * power as i32 + ((16 * beyond) >> power) as i32
}

fn clip(value: i32) -> i8 {
    value.clamp(-127, 127) as i8
}

/// Sixteenths of a count to which a difference is looked at, either way.
const REACH: i32 = 1 << 21;

fn apart(level: i32, from: i32) -> i128 {
    i128::from((level - from).clamp(-REACH, REACH))
}

/// Variance of these values, of a sample (divided by one less), rounded as whole numbers are: the sum of squares about the mean up, the
/// quotient down.
fn variance(values: &[i128]) -> i128 {
    let n = values.len() as i128;
    let sum: i128 = values.iter().sum();
    // Each value times n less the sum is n times its distance from the mean.
    let about: i128 = values.iter().map(|value| (n * value - sum).pow(2)).sum();
    let squares = (about + n * n - 1) / (n * n);
    squares / (n - 1)
}

/// Ticks, newest first, and the segment that has taken them.
struct Taken {
    ticks: Vec<i32>,
    segment: Segment,
}

impl Taken {
    fn new(ticks: &[i32], noise: &Noise) -> Self {
        let mut segment = Segment::new();
        for &tick in ticks {
            segment.take(FineCounts(tick), noise);
        }
        Self {
            ticks: ticks.iter().rev().copied().collect(),
            segment,
        }
    }

    fn by_hand(&self, past: &Past, of_noise: u64, correlation: i8, tolerance: u32, upwards: i32) -> Features {
        let noise = logarithm(i128::from(of_noise));
        let newest = |n: usize| -> Vec<i128> {
            let relative = self.ticks[..n].iter().map(|&tick| apart(tick, self.ticks[0]));
            relative.collect()
        };
        let mut out = Vec::new();
        for n in 1..=24_usize {
            if [2, 3, 4, 6, 8, 12, 16, 24].contains(&n) {
                out.push(logarithm(variance(&newest(n))) - noise);
            }
            if [1, 3, 7, 15, 23].contains(&n) {
                let steps = newest(n + 1);
                let largest = steps.windows(2).map(|pair| (pair[0] - pair[1]).abs()).max();
                out.push(logarithm(largest.expect("a step").pow(2)) - noise);
            }
        }
        for half in [2, 3, 4, 6, 8, 12] {
            let both = newest(2 * half);
            let difference = both[..half].iter().sum::<i128>() - both[half..].iter().sum::<i128>();
            out.push(logarithm(difference.pow(2) / (2 * half as i128)) - noise);
        }
        let len = self.segment.len();
        let n = len.clamp(1, 8);
        let level = self.ticks[..n].iter().map(|&tick| i64::from(tick)).sum::<i64>() / n as i64;
        let level = level as i32;
        out.push(logarithm(len as i128));
        out.push(logarithm(i128::from(past.lost_for)));
        out.push(logarithm(i128::from(past.before.len)));
        out.push(i32::from(past.before.roughness));
        let signed = |change: i128| {
            let size = (logarithm(change.pow(2)) - noise + 64).max(0) / 2;
            if change < 0 { -size } else { size }
        };
        let upwards = i128::from(upwards);
        let came = upwards * apart(level, past.before.level.0);
        out.push(signed(came));
        out.push(signed(upwards * apart(past.before.level.0, past.earlier.level.0)));
        for known in [past.trusted, past.expected] {
            out.push(known.map_or(127, |known| logarithm(apart(level, known.0).pow(2)) - noise));
        }
        let tolerance = logarithm(i128::from(tolerance));
        out.push(noise - 2 * tolerance);
        out.push(logarithm(came.abs()) - tolerance);
        out.push(i32::from(correlation));
        out.push(i32::from(self.roughness_by_hand(len + 4, 6, of_noise)));
        let clipped: Vec<i8> = out.into_iter().map(clip).collect();
        clipped.try_into().expect("as many as there are")
    }

    fn roughness_by_hand(&self, skip: usize, n: usize, of_noise: u64) -> i8 {
        // Of what was before a full segment nothing is kept: the ring is read round.
        let there = |age: usize| self.ticks[(skip + age) % LENGTH];
        let values: Vec<i128> = (0..n).map(|age| apart(there(age), there(0))).collect();
        clip(logarithm(variance(&values)) - logarithm(i128::from(of_noise)))
    }
}

/// Ticks at rest, under a hand, with a step or a word far out, of a quiet and of a noisy unit; the past of each at random.
#[test]
fn every_feature_is_as_by_hand() {
    let mut random = Pcg64::seed_from_u64(11);
    let noise = Noise::new();
    let mut seen = [[false; 2]; COUNT];
    for case in 0..3_000 {
        let spread = [3, 700, 2_500, 60_000][case % 4];
        let level = random.random_range(-20_000_000..20_000_000);
        let step = [0, 4_000, -70_000, 3_000_000][case / 4 % 4];
        let from = random.random_range(0..40);
        let ticks: Vec<i32> = (0..160)
            .map(|index| {
                let stepped = if index + from >= 160 { step } else { 0 };
                level + stepped + random.random_range(-spread..=spread)
            })
            .collect();
        let taken = Taken::new(&ticks, &noise);
        let mut near =
            || FineCounts(ticks[159] + random.random_range(-200_000..200_000) / (1 + 40 * (case as i32 % 2)));
        let mut stretch = |len, roughness| Stretch {
            level: near(),
            len,
            roughness,
        };
        let past = Past {
            before: stretch((case % 33) as u16, (case % 90) as i8 - 20),
            earlier: stretch(9, 4),
            trusted: (case % 5 > 0).then(&mut near),
            lost_for: (case % 700) as u16,
            expected: (case % 3 > 0).then(&mut near),
        };
        let of_noise = [40_000, 921_600, 6_000_000_000][case % 3];
        let (correlation, tolerance) = ((case % 38) as i8, [3_436, 1_718][case % 2]);
        for upwards in [1, -1] {
            let got = features(
                &taken.segment,
                &past,
                &Measure {
                    variance: of_noise,
                    correlation,
                    tolerance,
                    upwards,
                },
            );
            let by_hand = taken.by_hand(&past, of_noise, correlation, tolerance, upwards);
            assert_eq!(got, by_hand, "case {case}");
            for (seen, value) in seen.iter_mut().zip(got) {
                seen[usize::from(value > 0)] = true;
            }
        }
        for (skip, n) in [(0, 3), (2, 32), (9, 1)] {
            let got = roughness(&taken.segment, skip, n.max(2), of_noise);
            assert_eq!(got, taken.roughness_by_hand(skip, n.max(2), of_noise), "case {case}");
        }
    }
    let never: Vec<_> = (0..COUNT).filter(|&index| seen[index] != [true; 2]).collect();
    // The length of a segment is 1 at least and the last trusted level mostly far; all else is seen on both sides.
    assert!(never.len() <= 1, "always of one sign: {never:?}");
}

/// The length of its segment is all that a scale just switched on knows.
#[test]
fn with_no_past_nothing_is_near() {
    let taken = Taken::new(&[5_000; 160], &Noise::new());
    let got = features(
        &taken.segment,
        &Past::default(),
        &Measure {
            variance: 921_600,
            correlation: 0,
            tolerance: 3_436,
            upwards: 1,
        },
    );
    assert_eq!(got, taken.by_hand(&Past::default(), 921_600, 0, 3_436, 1));
    assert_eq!(
        (got[Feature::FromTrusted as usize], got[Feature::FromExpected as usize]),
        (127, 127),
        "neither level is known"
    );
}
