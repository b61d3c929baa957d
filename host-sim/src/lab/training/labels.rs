//! From simulated conversions with their truth to rows for the trees: the features of a tick, whether a steady sign would be right
//! there, and how much that matters.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::signal::{Check, Estimator, Features, Thresholds, Tree};
use yarn_scale_core::units::{Counts, FineCounts, Instant};

use crate::lab::measure::recording::{Event, Recording};

/// What one conversion was like in truth.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tick {
    /// Ready at, s.
    pub at: f64,
    /// The word; `None` if none came.
    pub raw: Option<i32>,
    /// Load as a noise-free converter would say it, g.
    pub clean_g: f64,
    /// The same without other forces and ringing, g.
    pub settled_g: f64,
}

/// A stretch of conversions with what happened in it.
#[derive(Clone, Debug)]
pub(super) struct Lesson {
    pub rate: SampleRate,
    pub counts_per_g: f64,
    pub zero_counts: f64,
    pub ticks: Vec<Tick>,
    /// Hands on the pan: from, to, s.
    pub hands: Vec<(f64, f64)>,
    /// Pulls on the strand: from, until less than 0.1 g is left, s.
    pub pulls: Vec<(f64, f64)>,
}

/// Rows for the trees.
#[derive(Clone, Debug, Default)]
pub(super) struct Rows {
    pub features: Vec<Features>,
    pub good: Vec<bool>,
    pub weight: Vec<f32>,
}

impl Lesson {
    /// A benchmark recording as a lesson.
    pub(super) fn of(recording: &Recording) -> Self {
        let mut hands = Vec::new();
        let mut pulls = Vec::new();
        for event in &recording.events {
            match event {
                Event::Handling(_, timing) => hands.push((timing.contact, timing.hand_off)),
                Event::Tug(tug) => pulls.push((tug.from, tug.gone(0.1))),
                _ => {}
            }
        }
        let calibration = recording.calibration;
        Self {
            rate: recording.rate,
            counts_per_g: calibration.counts_per_g,
            zero_counts: calibration.zero_counts,
            ticks: recording
                .conversions
                .iter()
                .map(|c| Tick {
                    at: c.at,
                    raw: c.raw,
                    clean_g: calibration.grams(c.truth.clean_counts),
                    settled_g: calibration.grams(c.truth.settled_counts),
                })
                .collect(),
            hands,
            pulls,
        }
    }

    /// Adds its rows, as an estimator sees them that judges by `trees`.
    pub(super) fn teach(&self, rows: &mut Rows, trees: &'static [Tree]) {
        let mut check = Check::new(self.rate);
        let mut estimator = Estimator::new(self.rate, (0.1 * self.counts_per_g) as f32);
        let fine = f64::from(FineCounts::PER_COUNT);
        estimator.judge_by(trees);
        estimator.set_thresholds(thresholds(self.rate));
        estimator.expect(FineCounts((self.zero_counts * fine) as i32));
        let within = |spans: &[(f64, f64)], t: f64, at_first: f64| {
            spans.iter().any(|s| t >= s.0 && t <= s.1.min(s.0 + at_first))
        };
        let mut last_bad = f64::NEG_INFINITY;
        let mut skipped = 0;
        for (index, tick) in self.ticks.iter().enumerate() {
            let Some(raw) = tick.raw else { continue };
            let Ok(sample) = check.judge(Instant((tick.at * 1_000.0) as u64), Ok(RawSample(Counts(raw)))) else {
                continue;
            };
            let Some(reading) = estimator.take(sample).filter(|reading| reading.fresh) else {
                continue;
            };
            let per_g = self.counts_per_g.abs();
            let se = f64::from(reading.se) / per_g;
            let level = (f64::from(reading.level.0) / fine - self.zero_counts) / self.counts_per_g;
            let hand = within(&self.hands, tick.at, f64::INFINITY);
            let pull = within(&self.pulls, tick.at, f64::INFINITY);
            let early = within(&self.hands, tick.at, 0.5) || within(&self.pulls, tick.at, 0.4);
            let tolerance = if self.pulls.is_empty() { 0.05 } else { 0.07 };
            let moving = (self.smoothed(index) - tick.settled_g).abs() > tolerance;
            let wrong = reading.age >= 2 && (level - tick.settled_g).abs() > (4.0 * se).max(0.08);
            let bad = hand || moving || wrong;
            if bad {
                last_bad = tick.at;
            }
            if reading.age < 2 || se > WORST_SE_G {
                continue;
            }
            let weight = match (bad, tick.at - last_bad < LONG_AFTER_S) {
                (true, _) if early => 0.3,
                (true, _) if hand => 4.0,
                (true, _) if pull => 1.2,
                (true, _) => 4.0,
                (false, true) => 2.0,
                (false, false) => {
                    // There is plenty of rest: a quarter of it is enough, at half its weight.
                    skipped += 1;
                    if skipped % 4 != 0 {
                        continue;
                    }
                    2.0
                }
            };
            rows.features.push(*estimator.features());
            rows.good.push(!bad);
            rows.weight.push(weight);
        }
    }

    /// The clean load as a tick sees it: at 80 samples a second, ringing that the tick takes out does not make it wrong.
    fn smoothed(&self, index: usize) -> f64 {
        if self.rate == SampleRate::Ten || index < BLOCK * 3 {
            return self.ticks[index].clean_g;
        }
        let mut values: Vec<f64> = self.ticks[index + 3 - 3 * BLOCK..=index]
            .iter()
            .map(|t| t.clean_g)
            .collect();
        for _ in 0..3 {
            values = values
                .windows(BLOCK)
                .map(|w| w.iter().sum::<f64>() / BLOCK as f64)
                .collect();
        }
        values.last().copied().unwrap_or(self.ticks[index].clean_g)
    }
}

/// Conversions of a running mean at 80 samples a second.
const BLOCK: usize = 8;
/// Time after a disturbance when rest begins to be plentiful, s.
const LONG_AFTER_S: f64 = 2.5;
/// A level that uncertain is never shown as steady anyway, g.
const WORST_SE_G: f64 = 0.025;

/// How sure an estimator is while it is taught: not what is usual, so that trees do not change with the odds chosen for them afterwards.
const fn thresholds(rate: SampleRate) -> Thresholds {
    Thresholds {
        acquire: match rate {
            SampleRate::Ten => 184,
            SampleRate::Eighty => 232,
        },
        release: -32,
    }
}
