//! Seeded randomness: every part of the world draws from a stream of its own, so that one more footstep does not change the noise.

use rand::{RngExt, SeedableRng};
use rand_distr::StandardNormal;
use rand_pcg::Pcg64Mcg;

/// One independent stream of random numbers.
#[derive(Clone, Debug)]
pub struct Stream(Pcg64Mcg);

impl Stream {
    /// The stream `number` of `seed`.
    #[must_use]
    pub fn new(seed: u64, number: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(mix(mix(seed) ^ number)))
    }

    /// Uniform between `low` and `high`.
    pub fn uniform(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.0.random::<f64>()
    }

    /// Log-uniform between `low` and `high`, both positive.
    pub fn log_uniform(&mut self, low: f64, high: f64) -> f64 {
        self.uniform(low.ln(), high.ln()).exp()
    }

    /// +1 or -1.
    pub fn sign(&mut self) -> f64 {
        if self.chance(0.5) { 1.0 } else { -1.0 }
    }

    /// True with probability `p`.
    pub fn chance(&mut self, p: f64) -> bool {
        self.0.random::<f64>() < p
    }

    /// One of `0..count`.
    pub fn index(&mut self, count: usize) -> usize {
        self.0.random_range(0..count)
    }

    /// Standard normal.
    pub fn normal(&mut self) -> f64 {
        self.0.sample(StandardNormal)
    }

    /// Waiting time of a Poisson process with mean `mean`.
    pub fn waiting(&mut self, mean: f64) -> f64 {
        -mean * (1.0 - self.0.random::<f64>()).ln()
    }
}

/// The finaliser of `SplitMix64` (Steele, Lea and Flood, 2014): neighbouring seeds give unrelated streams.
fn mix(seed: u64) -> u64 {
    let mut z = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}
