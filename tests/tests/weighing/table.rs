//! A table of how the scale settles over a grid of noise, disturbance and load, compared exactly with `tests/snapshots/weighing.txt`.
//!
//! Everything in here is made with additions and multiplications only, so that any machine gives the same table. After a change that is
//! meant to move it: `UPDATE_WEIGHING=1 cargo test -p yarn-scale-tests --test weighing table`, and the difference is read before it is
//! committed. The disturbances are small inventions of this test; the benchmark is `yarn-scale-lab measure`.

use std::fmt::Write as _;

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::{Calibration, Scale};

const PER_GRAM: f64 = 4_294.967;
const ZERO: f64 = 52_000.0;
const TRIALS: usize = 20;
/// Steps of 2 ms in one conversion.
const STEPS: usize = 50;

#[derive(Clone, Copy, Debug)]
enum Disturbance {
    /// Put down and let go within a tenth of a second.
    Placed,
    /// Put down by a hand that stays for two seconds and fluctuates by 3 % of 8 g.
    Held,
    /// Lying; then the strand is pulled with 1 g for a second.
    Tugged,
    /// Lying; then the table rings at 9 Hz, dying away.
    Shaken,
}

/// Uniform and normal numbers by a linear congruence.
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

#[derive(Default)]
struct Tally {
    latency: Vec<usize>,
    error: Vec<f64>,
    early: usize,
}

/// Four running means one after the other, as the converter's filter.
fn kernel() -> Vec<f64> {
    let mut kernel = vec![1.0];
    for _ in 0..4 {
        let mut wider = vec![0.0; kernel.len() + STEPS - 1];
        for (i, weight) in kernel.iter().enumerate() {
            for value in &mut wider[i..i + STEPS] {
                *value += weight / STEPS as f64;
            }
        }
        kernel = wider;
    }
    kernel
}

fn trial(seed: u64, noise: f64, disturbance: Disturbance, load: f64, kernel: &[f64], tally: &mut Tally) {
    let mut random = Random(seed);
    let calibration = Calibration::straight(FineCounts((16.0 * ZERO) as i32), PER_GRAM as f32).expect("sound");
    let mut scale = Scale::new(calibration, Milligrams::from_grams(500), SampleRate::Ten, None);
    let phase = (random.uniform() * STEPS as f64) as usize;
    let (begin, end) = match disturbance {
        Disturbance::Placed => (150 * STEPS + phase, 151 * STEPS + phase),
        Disturbance::Held => (150 * STEPS + phase, 170 * STEPS + phase),
        Disturbance::Tugged | Disturbance::Shaken => (150 * STEPS + phase, 160 * STEPS + phase),
    };
    let lies_before = matches!(disturbance, Disturbance::Tugged | Disturbance::Shaken);
    let mut slow = 0.0;
    let (mut sine, mut cosine) = (0.0, 0.6);
    let mut history = vec![0.0; kernel.len()];
    let mut was = true;
    let mut flagged = false;
    for tick in 0..220 {
        for step in 0..STEPS {
            let at = tick * STEPS + step;
            let ramp = ((at as f64 - begin as f64) / STEPS as f64).clamp(0.0, 1.0);
            let lies = if lies_before {
                f64::from(u8::from(tick > 60))
            } else {
                ramp
            };
            let mut force = load * lies;
            if (begin..end).contains(&at) {
                match disturbance {
                    Disturbance::Placed => {}
                    Disturbance::Held => {
                        slow += 0.115 * random.normal() - slow / 150.0;
                        force += 8.0 * ramp * (1.0 + 0.03 * slow);
                    }
                    Disturbance::Tugged => force -= 1.0,
                    Disturbance::Shaken => {
                        (sine, cosine) = (0.9985 * (sine + 0.113 * cosine), 0.9985 * (cosine - 0.113 * sine));
                        force += sine;
                    }
                }
            }
            history[at % kernel.len()] = force;
        }
        let oldest = ((tick + 1) * STEPS) % kernel.len();
        let clean: f64 = (0..kernel.len())
            .map(|i| kernel[i] * history[(oldest + i) % kernel.len()])
            .sum();
        let word = ZERO + PER_GRAM * clean + noise * random.normal();
        let now = (tick + 1) * STEPS;
        scale.sample(Instant(now as u64 * 2), Ok(RawSample(Counts(word as i32))));
        let readout = scale.readout();
        let steady = readout.steady.is_some();
        if now > begin + 5 * STEPS && now < end {
            tally.early += usize::from(steady && !was);
        }
        if now >= end && steady && !was && !flagged {
            flagged = true;
            tally.latency.push(now - end);
            let grams = readout
                .gross
                .map_or(f64::NAN, |gross| f64::from(gross.value.0) / 1_000.0);
            tally.error.push(grams - load);
        }
        was = steady;
    }
}

#[test]
fn the_table_stands() {
    let kernel = kernel();
    let mut table = String::from(
        "# noise in counts of one sample (4295 counts a gram), load in g, latency in ms (median, worst) after the disturbance ended,\n\
         # error at the flag in mg (mean, spread, worst), steady signs while disturbed, flags in 20 trials\n",
    );
    for noise in [25.0, 60.0, 150.0] {
        for disturbance in [
            Disturbance::Placed,
            Disturbance::Held,
            Disturbance::Tugged,
            Disturbance::Shaken,
        ] {
            for load in [2.0, 20.0, 200.0] {
                let mut tally = Tally::default();
                for seed in 0..TRIALS {
                    trial(
                        seed as u64 * 7_919 + noise as u64,
                        noise,
                        disturbance,
                        load,
                        &kernel,
                        &mut tally,
                    );
                }
                tally.latency.sort_unstable();
                let count = tally.error.len().max(1) as f64;
                let mean = tally.error.iter().sum::<f64>() / count;
                let spread = (tally.error.iter().map(|e| (e - mean) * (e - mean)).sum::<f64>() / count).sqrt();
                let worst = tally.error.iter().fold(0.0_f64, |worst, e| worst.max(e.abs()));
                let at = |part: usize| {
                    tally
                        .latency
                        .get(tally.latency.len().saturating_sub(1) * part / 2)
                        .copied()
                        .unwrap_or(0)
                };
                let _ = writeln!(
                    table,
                    "noise {noise:3} {:<8} load {load:3}  latency {:4} {:4}  error {:+4.0} {:3.0} {:3.0}  early {:2}  flags {}",
                    format!("{disturbance:?}"),
                    2 * at(1),
                    2 * at(2),
                    1_000.0 * mean,
                    1_000.0 * spread,
                    1_000.0 * worst,
                    tally.early,
                    tally.latency.len(),
                );
            }
        }
    }
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots/weighing.txt");
    if std::env::var_os("UPDATE_WEIGHING").is_some() {
        std::fs::write(path, &table).expect("written");
    }
    let before = std::fs::read_to_string(path).expect("the table");
    assert!(before == table, "the table has moved; now it is\n{table}");
}
