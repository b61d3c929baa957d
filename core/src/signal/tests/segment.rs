//! The test that finds a change of load, against the same by its definition in double precision: a generalised likelihood ratio at windows
//! of 1 to 32 ticks, with no short cut.

use std::format;
use std::prelude::rust_2024::*;

use crate::signal::noise::Noise;
use crate::signal::segment::{Change, LENGTH, Segment};
use crate::units::FineCounts;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// All ticks there were, oldest first, and how many of the newest are the segment.
#[derive(Default)]
struct ByHand {
    ticks: Vec<i32>,
    len: usize,
}

impl ByHand {
    fn mean(&self, skip: usize, n: usize) -> f64 {
        let end = self.ticks.len() - skip;
        self.ticks[end - n..end]
            .iter()
            .map(|&tick| f64::from(tick))
            .sum::<f64>()
            / n as f64
    }

    fn take(&mut self, tick: i32, noise: &Noise) -> Change {
        self.ticks.push(tick);
        self.len = (self.len + 1).min(LENGTH);
        let error = |n: usize| f64::from(noise.standard_error(n));
        for window in [1, 2, 4, 8, 16, 32] {
            if window >= self.len {
                break;
            }
            let rest = self.len - window;
            let apart = (self.mean(0, window) - self.mean(window, rest)) / 16.0;
            let mut variance = error(window).powi(2) + error(rest).powi(2);
            let slow = window >= 8;
            if slow {
                variance += f64::from(noise.flicker()).powi(2);
            }
            let limit = if slow { 4.0 } else { 4.8 };
            if apart.abs() > limit * variance.sqrt() {
                self.len = window;
                return if slow { Change::Drift } else { Change::Jump(window) };
            }
        }
        // The tail of a step in the converter's filter.
        if (3..=12).contains(&self.len) {
            let rest = self.len - 1;
            let apart = (self.mean(rest, 1) - self.mean(0, rest)) / 16.0;
            let variance = f64::from(noise.sigma()).powi(2) + error(rest).powi(2);
            if apart.abs() > 2.0 * variance.sqrt() {
                self.len = rest;
            }
        }
        Change::None
    }
}

/// A unit whose neighbouring ticks resemble each other as this filter makes them, so that its mean is worse than a plain one.
fn learnt(sigma: f64, correlation: f64) -> Noise {
    let mut noise = Noise::new();
    let fine = |variance: f64| (16.0 * variance.sqrt()).round() as i32;
    let apart = fine(2.0 * sigma * sigma);
    let neighbours = fine(2.0 * sigma * sigma * (1.0 - correlation));
    for _ in 0..4_000 {
        noise.learn(neighbours, apart);
    }
    noise
}

/// Rest, small steps about the limits, loads, slow drift and single words far out, for quiet and noisy, white and coloured units.
#[test]
fn changes_are_found_where_the_ratio_says() {
    for (seed, sigma, correlation, level) in [
        (1, 60.0, 0.0, 1_900_000),
        (2, 15.0, 0.3, -40_000_000),
        (3, 240.0, 0.45, 130_000_000),
        (4, 60.0, 0.45, 0),
    ] {
        let noise = learnt(sigma, correlation);
        let one = 16.0 * f64::from(noise.sigma());
        let mut random = Pcg64::seed_from_u64(seed);
        let (mut segment, mut by_hand) = (Segment::new(), ByHand::default());
        let (mut at, mut drift) = (f64::from(level), 0.0);
        let mut counted = [0_u32; 4];
        let mut shorter = 0;
        for index in 0..40_000 {
            if index % 60 == 0 {
                let size = [2.0, 3.5, 5.0, 6.0, 9.0, 300.0, 100_000.0][index / 60 % 7] * one;
                at += if random.random_bool(0.5) { size } else { -size };
                at = at.clamp(-134_000_000.0, 134_000_000.0);
                drift = [0.0, 0.02, -0.05, 0.1][index / 60 % 4] * one;
            }
            at += drift;
            // Twelve evens make a normal; with half of the tick before, neighbours resemble each other.
            let normal: f64 = (0..12).map(|_| random.random::<f64>()).sum::<f64>() - 6.0;
            let alone = if index % 97 == 0 { 40.0 * one } else { 0.0 };
            let tick = (at + normal * one + alone).round() as i32;
            let before = by_hand.len;
            let change = by_hand.take(tick, &noise);
            let what = format!("tick {index} of unit {seed}");
            assert_eq!(segment.take(FineCounts(tick), &noise), change, "{what}");
            assert_eq!(segment.len(), by_hand.len, "{what}");
            let near = |mean: FineCounts, exact: f64| {
                assert_eq!(f64::from(mean.0), exact.trunc(), "{what}");
            };
            near(segment.level(), by_hand.mean(0, by_hand.len));
            near(segment.mean(by_hand.len.min(8)), by_hand.mean(0, by_hand.len.min(8)));
            if by_hand.ticks.len() > LENGTH {
                near(segment.mean_of(7, 5), by_hand.mean(7, 5));
                for age in [0, 1, 50, LENGTH - 1] {
                    assert_eq!(
                        segment.back(age).0,
                        by_hand.ticks[by_hand.ticks.len() - 1 - age],
                        "{what}"
                    );
                }
            }
            counted[match change {
                Change::None => 0,
                Change::Drift => 1,
                Change::Jump(1) => 2,
                Change::Jump(_) => 3,
            }] += 1;
            shorter += u32::from(change == Change::None && by_hand.len < LENGTH && by_hand.len == before);
        }
        // Each kind of change was there, or nothing was tested.
        assert!(counted[1] > 20 && counted[2] > 300 && counted[3] > 20, "{counted:?}");
        assert!(shorter > 50, "{shorter} trimmed");
    }
}

#[test]
fn a_cleared_segment_holds_nothing_and_begins_anew() {
    let noise = Noise::new();
    let mut segment = Segment::new();
    assert_eq!(segment.len(), 0);
    assert_eq!(segment.level(), FineCounts(0));
    for _ in 0..20 {
        segment.take(FineCounts(-777), &noise);
    }
    assert_ne!(segment.len(), 0);
    assert_eq!((segment.len(), segment.level()), (20, FineCounts(-777)));
    segment.clear();
    assert_eq!(segment.len(), 0);
    assert_eq!((segment.len(), segment.level()), (0, FineCounts(0)));
    assert_eq!(segment.take(FineCounts(90_000_000), &noise), Change::None, "not a jump");
    assert_eq!((segment.len(), segment.level()), (1, FineCounts(90_000_000)));
}
