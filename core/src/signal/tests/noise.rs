//! How the unit's noise is learnt, against the formulas it is documented with, in double precision.

use std::format;
use std::prelude::rust_2024::*;

use crate::signal::noise::Noise;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// Mean squares of differences of neighbours and of ticks three apart, sixteenths of a count squared.
struct ByHand {
    neighbours: f64,
    apart: f64,
    weight: f64,
}

impl ByHand {
    fn new() -> Self {
        let at_first = 2.0 * (16.0 * 60.0_f64).powi(2);
        Self {
            neighbours: at_first,
            apart: at_first,
            weight: 5.0,
        }
    }

    /// A square counts for at most three standard deviations (and 4,096 counts, so that it fits a word); what a normal one loses by the
    /// first is given back: its expectation is 0.9893.
    fn learn(&mut self, from_neighbour: i32, from_third: i32) {
        self.weight = (self.weight + 1.0).min(600.0);
        for (mean, difference) in [(&mut self.neighbours, from_neighbour), (&mut self.apart, from_third)] {
            let square = f64::from(difference).abs().min(65_535.0).powi(2).min(9.0 * *mean) / 0.9893;
            // No real converter is below two counts.
            *mean = (*mean + (square - *mean) / self.weight).max(2.0 * 32.0_f64.powi(2));
        }
    }

    fn sigma(&self) -> f64 {
        (self.apart / 2.0).sqrt() / 16.0
    }

    fn correlation(&self) -> f64 {
        (1.0 - self.neighbours / self.apart).clamp(0.0, 0.6)
    }
}

fn close(what: &str, value: f32, by_hand: f64, within: f64) {
    let off = (f64::from(value) - by_hand).abs();
    assert!(
        off <= within * by_hand.abs() + 2e-3,
        "{what}: {value}, by hand {by_hand}"
    );
}

fn compare(noise: &Noise, by_hand: &ByHand, what: &str) {
    let (sigma, correlation) = (by_hand.sigma(), by_hand.correlation());
    close(what, noise.sigma(), sigma, 1e-3);
    close(what, noise.correlation(), correlation, 2e-3);
    assert!(
        (f64::from(noise.fine_sigma()) - 16.0 * sigma).abs() <= 1.0 + 0.016 * sigma,
        "{what}"
    );
    close(what, noise.flicker(), 14.0 * (sigma / 60.0).sqrt(), 1e-3);
    // c = 1 + 2 (r1 + r2), with a tenth of the first for the second; never worse than one tick.
    for n in [1, 2, 9, 128] {
        let of_mean = sigma * ((1.0 + 2.2 * correlation) / f64::from(n)).sqrt();
        close(what, noise.standard_error(n as usize), of_mean.min(sigma), 2e-3);
    }
    assert_eq!(
        noise.standard_error(0).to_bits(),
        noise.standard_error(1).to_bits(),
        "{what}"
    );
}

/// Units from the quietest to the noisiest, white and coloured, with touches that looked like rest among their lessons.
#[test]
fn noise_is_learnt_by_its_formulas() {
    for (spread, likeness) in [(3_000, 1.0), (300, 0.5), (40_000, 0.7), (5, 1.0), (1_500, 0.1)] {
        let (mut noise, mut by_hand) = (Noise::new(), ByHand::new());
        compare(&noise, &by_hand, "a new unit");
        let mut random = Pcg64::seed_from_u64(17);
        for lesson in 1..3_000_u32 {
            let mut one = |widest: f64| (random.random_range(-1.0..=1.0) * widest) as i32;
            let touched = if lesson % 50 == 0 { 20.0 } else { 1.0 };
            let widest = touched * f64::from(spread);
            let (from_neighbour, from_third) = (one(widest * f64::sqrt(likeness)), one(widest));
            noise.learn(from_neighbour, from_third);
            by_hand.learn(from_neighbour, from_third);
            let what = format!("{spread}, lesson {lesson}");
            assert_eq!(noise.is_learnt(), lesson >= 25, "{what}");
            // What is known well is worked out anew with every eighth lesson only.
            if lesson < 25 || lesson % 8 == 0 {
                compare(&noise, &by_hand, &what);
            }
        }
    }
}

/// Nothing that comes can make it lose its head.
#[test]
fn the_widest_differences_teach_no_more_than_three_standard_deviations() {
    let mut noise = Noise::new();
    let mut before = noise.sigma();
    for _ in 0..24 {
        noise.learn(i32::MIN, i32::MAX);
        // At the sixth of one: 1 + (9 / 0.9893 - 1) / 6 in the square.
        let most = before * (1.0 + (9.0 / 0.9893 - 1.0) / 6.0_f32).sqrt();
        assert!(noise.sigma() > before && noise.sigma() <= 1.001 * most);
        before = noise.sigma();
    }
}
