//! What is hard to beat: an observer who knows the instant of hand off and the noise-free cell.

use yarn_scale_core::converter::SampleRate;

use super::ideal;
use super::recording::{Event, Recording};
use crate::world::{Gesture, NoiseClass, Timing};

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

/// The chance that even an [ideal observer](super::ideal) is more than `off_g` wrong about a load that was changed by the handling `timing`, if it speaks
/// at the conversion `flag`: it knows how the noise-free cell swings, and reads from when a step has gone through the converter, after the handling
/// `before` up to this one, and again after this. None where the load is as before, or the pan empty: that may be guessed. Not a number at 80
/// conversions a second, where it would read too many.
#[must_use]
pub fn chance_of_wrong(
    recording: &Recording,
    before: Option<&Timing>,
    timing: &Timing,
    flag: usize,
    off_g: f64,
) -> f64 {
    if recording.rate == SampleRate::Eighty {
        return f64::NAN;
    }
    let settled = |hand_off: f64| recording.first_from(hand_off) + SETTLING;
    let contact = recording.first_from(timing.contact);
    let load = |index: usize| recording.conversions[index].truth.load_g;
    let from = before.map_or(0, |before| settled(before.hand_off));
    if from < contact && load(flag) != 0.0 && load(flag) != load(contact - 1) {
        ideal::chance_of_wrong(
            recording,
            from..contact,
            settled(timing.hand_off).min(flag)..=flag,
            off_g,
        )
    } else {
        0.0
    }
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
/// Conversions after which a step has gone through the converter.
const SETTLING: usize = 4;
/// Less than the lightest rest that has to be noticed, 0.15 g, by a few standard deviations of a level.
const REST_G: f64 = 0.11;
