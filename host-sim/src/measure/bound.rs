//! What no estimator can beat: it knows the instant of hand off and the noise-free cell.

use super::recording::{Event, Recording};
use crate::world::NoiseClass;

/// Latencies of the bound over the handlings of a recording, s: the first sample from which the noise-free cell stays within 0.05 g of
/// its settled value for 1 s, and as many samples more as 3.29 standard errors within 0.05 g (99.9 %) take.
#[must_use]
pub fn latencies(recording: &Recording) -> Vec<(NoiseClass, f64)> {
    let sigma = recording.unit.white_g(recording.rate);
    let correlated = if recording.unit.noise_through_filter { 2.09 } else { 1.0 };
    let samples = (correlated * (3.29 * sigma / NEAR_G).powi(2)).ceil().max(1.0);
    let period = recording.unit.period_s(recording.rate);
    let second = (1.0 / period).ceil() as usize;
    let mut latencies = Vec::new();
    for event in &recording.events {
        let Event::Handling(_, timing) = event else { continue };
        let near = |i: usize| {
            recording.conversions.get(i).is_none_or(|c| {
                let apart = c.truth.clean_counts - c.truth.settled_counts;
                (apart / recording.calibration.counts_per_g).abs() <= NEAR_G
            })
        };
        let first = recording.first_from(timing.hand_off);
        let still = (first..recording.conversions.len()).find(|i| (*i..i + second).all(near));
        if let Some(still) = still {
            latencies.push((
                recording.unit.class(),
                recording.conversions[still].at - timing.hand_off + (samples - 1.0) * period,
            ));
        }
    }
    latencies
}

const NEAR_G: f64 = 0.05;
