//! Averages of ticks and the noise that is learnt, against published values.

use std::vec;
use std::vec::Vec;

use crate::signal::noise::Noise;
use crate::signal::segment::{Change, Segment};
use crate::units::FineCounts;
use crate::values::rows;

/// The 1000-point test set of NIST SP 1065: a multiplicative congruence, with the fourth number it must give.
fn test_set() -> Vec<f64> {
    let mut numbers = vec![1_234_567_890_u64];
    while numbers.len() < 1_000 {
        numbers.push(numbers[numbers.len() - 1] * 16_807 % 2_147_483_647);
    }
    assert_eq!(numbers[3], 633_705_974);
    numbers.iter().map(|n| *n as f64 / 2_147_483_647.0).collect()
}

/// Averages over 1, 10 and 100 ticks as a segment takes them have the Allan deviation that is published for the set: nothing is lost or
/// counted twice on the way from ticks to a level.
#[test]
fn averages_have_the_published_allan_deviation() {
    const FINE: f64 = 16_777_216.0;
    // So noisy a unit that the set is one segment.
    let mut noise = Noise::new();
    for _ in 0..2_000 {
        noise.learn(160_000_000, 160_000_000);
    }
    for row in rows("sp1065_deviation.csv") {
        let points = row.number(0) as usize;
        let mut segment = Segment::new();
        let mut averages = Vec::new();
        for (index, y) in test_set().iter().enumerate() {
            segment.take(FineCounts((y * FINE).round() as i32), &noise);
            if (index + 1) % points == 0 {
                averages.push(f64::from(segment.mean(points).0) / FINE);
            }
        }
        let squares: f64 = averages.windows(2).map(|pair| (pair[1] - pair[0]).powi(2)).sum();
        let deviation = (squares / (2.0 * (averages.len() - 1) as f64)).sqrt();
        let published = row.number(1);
        assert!(
            (deviation / published - 1.0).abs() < 1e-6,
            "{points} points: {deviation}, published {published}"
        );
    }
}

/// For white noise the Allan deviation falls with the root of the number averaged; so does the standard error that the core states.
#[test]
fn standard_errors_fall_as_white_noise_does() {
    let mut noise = Noise::new();
    // Differences of white noise are as large at any distance.
    for index in 0..4_000 {
        let difference = if index % 2 == 0 { 1_600 } else { -1_600 };
        noise.learn(difference, difference);
    }
    let one = noise.standard_error(1);
    for n in [2, 4, 16, 64] {
        let ratio = one / noise.standard_error(n);
        assert!((ratio / (n as f32).sqrt() - 1.0).abs() < 0.12, "{n}: {ratio}");
    }
}

/// NIST `StRD` `NumAcc4`: an alternation about a large offset, as fine counts near the converter's end, where `f32` has steps of eight. The level
/// comes from differences of integers, so nothing is lost.
#[test]
fn large_offsets_lose_nothing() {
    let mut segment = Segment::new();
    let noise = Noise::new();
    for i in 0..128 {
        let change = segment.take(FineCounts(134_000_001 + if i % 2 == 0 { 1 } else { -1 }), &noise);
        assert_eq!(change, Change::None);
    }
    assert_eq!(segment.mean(128), FineCounts(134_000_001));
}

/// What noise a clipped mean of squares finds in normal noise: its constant is the expectation of the clipped square.
#[test]
fn noise_is_learnt_without_bias() {
    let mut noise = Noise::new();
    let mut normal = Normal(7);
    let mut last = [0.0_f32; 4];
    let mut mean = 0.0;
    for i in 0..20_000 {
        last.rotate_right(1);
        last[0] = 80.0 * normal.next();
        noise.learn(fine(last[0] - last[1]), fine(last[0] - last[3]));
        if i >= 2_000 {
            mean += noise.sigma() / 18_000.0;
        }
    }
    // Standard error of that mean: 80 / sqrt(2 x 18 000 / 1.5), 0.5 counts; the root's own bias, a quarter of 1/600, is less.
    assert!((mean - 80.0).abs() < 1.5, "{mean}");
    assert!(noise.correlation() < 0.15, "{}", noise.correlation());
    assert!((rows("robust_constants.csv")[2].number(1) - 0.9893).abs() < 1e-4);
}

/// Data-sheet noise and sigma / sqrt(N): a standard error under that line would be a bug.
#[test]
fn averages_are_no_better_than_physics() {
    let mut noise = Noise::new();
    let mut normal = Normal(3);
    let mut last = [0.0_f32; 4];
    for _ in 0..5_000 {
        last.rotate_right(1);
        last[0] = 21.47 * normal.next();
        noise.learn(fine(last[0] - last[1]), fine(last[0] - last[3]));
    }
    for row in rows("averaging_noise.csv") {
        let mg = f64::from(noise.standard_error(row.number(0) as usize)) / 4.294_967;
        assert!(
            mg > 0.93 * row.number(1) && mg < 1.2 * row.number(1),
            "{} ticks: {mg} mg for {}",
            row.number(0),
            row.number(1)
        );
    }
}

/// Normal numbers: the sum of twelve uniform ones less six, good enough for second moments.
struct Normal(u64);

impl Normal {
    fn next(&mut self) -> f32 {
        (0..12)
            .map(|_| {
                self.0 = self
                    .0
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                (self.0 >> 40) as f32 / (1_u64 << 24) as f32
            })
            .sum::<f32>()
            - 6.0
    }
}

/// Counts as the noise learns them.
fn fine(counts: f32) -> i32 {
    (counts * FineCounts::PER_COUNT as f32).round() as i32
}
