//! How often even an ideal observer is wrong: who knows the spectrum of this unit's noise and from when on the load lies still, and takes the
//! difference of the readings before a handling and after it by generalised least squares, the best of all unbiased linear ones (Aitken 1935).

use super::recording::Recording;
use crate::world::Noise;

/// The chance that this observer, with the conversions `before` and `after` a handling, is more than `off_g` from the true change. `before` is
/// cut to its newest, of which more say nothing that counts.
#[must_use]
pub fn chance_of_wrong(
    recording: &Recording,
    before: std::ops::Range<usize>,
    after: std::ops::RangeInclusive<usize>,
    off_g: f64,
) -> f64 {
    let noise = Noise::of(&recording.unit, recording.rate);
    let newest = before.start.max(before.end.saturating_sub(ENOUGH))..before.end;
    let taken: Vec<(usize, [f64; 2])> = newest
        .map(|index| (index, [1.0, 0.0]))
        .chain(after.map(|index| (index, [0.0, 1.0])))
        .collect();
    let longest = taken.last().map_or(0, |last| last.0 - taken[0].0);
    let by_lag: Vec<f64> = (0..=longest).map(|lag| noise.covariance(lag)).collect();
    let spread = variance_of_the_difference(&by_lag, &taken).sqrt() / recording.calibration.counts_per_g.abs();
    libm::erfc(off_g / spread / core::f64::consts::SQRT_2)
}

/// Variance of the best estimate of the second level less the first, square counts, by the covariance of conversions so many apart; each of them
/// with its share of the two levels. With the root `L` of the covariance and `Z` from `L Z = X`, the estimates have the covariance `(Z' Z)^-1`.
fn variance_of_the_difference(by_lag: &[f64], taken: &[(usize, [f64; 2])]) -> f64 {
    let [mut first, mut second, mut mixed] = [0.0; 3];
    let mut rows: Vec<Vec<f64>> = Vec::new();
    let mut solved: Vec<[f64; 2]> = Vec::new();
    for (row, (index, share)) in taken.iter().enumerate() {
        let mut left = Vec::with_capacity(row + 1);
        for (column, (other, _)) in taken.iter().take(row).enumerate() {
            let known: f64 = left.iter().zip(&rows[column]).map(|(a, b)| a * b).sum();
            left.push((by_lag[index - other] - known) / rows[column][column]);
        }
        let known: f64 = left.iter().map(|a| a * a).sum();
        let root = (by_lag[0] - known).sqrt();
        let z = [0, 1].map(|level| {
            let known: f64 = left.iter().zip(&solved).map(|(a, z)| a * z[level]).sum();
            (share[level] - known) / root
        });
        left.push(root);
        rows.push(left);
        solved.push(z);
        first += z[0] * z[0];
        second += z[1] * z[1];
        mixed += z[0] * z[1];
    }
    (first + second + 2.0 * mixed) / (first * second - mixed * mixed)
}

/// Conversions before a handling that are looked at: six seconds at ten a second.
const ENOUGH: usize = 64;
