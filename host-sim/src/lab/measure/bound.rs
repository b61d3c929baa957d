//! What is hard to beat: an observer who knows the instant of hand off and the noise-free cell.

use super::recording::{Event, Recording};
use crate::world::{Gesture, NoiseClass};

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

/// Errors of the sections of a recording, g, for an observer who reads the noise-free cell, settled, at each mark, and the empty pan just
/// before each placement: what creep, hysteresis, bow and span leave. Where the cake
/// stays on, drift of the zero counts too. With `creep_known`, creep is taken off.
#[must_use]
pub fn section_errors(recording: &Recording, creep_known: bool) -> Vec<f64> {
    let level = |index: usize| {
        recording.settled_g(index)
            - if creep_known {
                recording.conversions[index].truth.creep_g
            } else {
                0.0
            }
    };
    let mut zero = 0.0;
    let mut last = None;
    let mut errors = Vec::new();
    for event in &recording.events {
        match event {
            Event::Handling(Gesture::Place, timing) => {
                zero = level(recording.first_from(timing.contact).saturating_sub(1))
            }
            Event::Mark(at, used) => {
                let gross = level(recording.first_from(*at)) - zero;
                errors.extend(last.map(|last: f64| last - gross - used));
                last = Some(gross);
            }
            _ => {}
        }
    }
    errors
}

/// Pans emptied by a hand, and those of which even who knows the noise-free cell cannot say whether a rest lies on them: whose zero had risen, since
/// they were last seen empty, by more than what the scale takes for an empty pan's own.
#[must_use]
pub fn emptied(recording: &Recording) -> [usize; 2] {
    recording.emptied(REST_G)
}

const NEAR_G: f64 = 0.05;
/// Less than the lightest rest that has to be noticed, 0.15 g, by a few standard deviations of a level.
const REST_G: f64 = 0.11;
