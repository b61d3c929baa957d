//! How the level moves, by hand from the words.

use std::prelude::rust_2024::*;

use crate::converter::{RawSample, SampleRate};
use crate::signal::{Check, Estimator};
use crate::units::{Counts, Instant};

/// The newer half of the segment against the older one, which at an even slope is as many counts higher as half a segment has ticks times
/// the slope, whichever way; with less than three seconds nothing is said.
#[test]
fn drift_is_read_from_two_halves() {
    for a_tick in [1, -2] {
        let mut estimator = Estimator::new(SampleRate::Ten, 429.5);
        let mut check = Check::new(SampleRate::Ten);
        let mut state = 5_u32;
        let mut words = Vec::new();
        let (mut sum, mut long) = (0.0, 0);
        for index in 0..900_i32 {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            words.push(90_000 + a_tick * index + (state >> 16) as i32 % 241 - 120);
            let now = Instant(100 * words.len() as u64);
            let sample = check.judge(now, Ok(RawSample(Counts(words[index as usize]))));
            let reading = estimator.take(sample.expect("a plain word")).expect("a reading");
            let drift = f64::from(estimator.drift());
            let half = reading.age / 2;
            if half < 16 {
                assert_eq!(drift.to_bits(), 0, "tick {index}");
                continue;
            }
            let mean = |from: usize| {
                let those = &words[words.len() - from - half..words.len() - from];
                those.iter().map(|&word| f64::from(word)).sum::<f64>() / half as f64
            };
            // Apart by so many counts in half a segment; a minute has 600 ticks.
            let by_hand = (mean(0) - mean(half)) / half as f64 * 600.0;
            // Means are whole sixteenths.
            let within = 600.0 / 16.0 / half as f64 + 1e-3;
            assert!(
                (drift - by_hand).abs() < within,
                "tick {index}: {drift}, by hand {by_hand}"
            );
            sum += drift;
            long += 1;
        }
        assert!(long > 300, "{long} ticks of a long enough segment");
        // A segment is shortened when its slope stands out, so that what is left shows a little less of it.
        let slope = sum / f64::from(long) / 600.0;
        assert!(
            (0.6..1.2).contains(&(slope / f64::from(a_tick))),
            "{slope} counts a tick"
        );
    }
}
