//! The estimator against its parts put together plainly: every tick judged, nothing kept from one tick to the next that could be worked
//! out. The parts have tests of their own.

use std::format;
use std::prelude::rust_2024::*;

use crate::converter::{RawSample, SampleRate};
use crate::signal::features::{COUNT, Features, Measure, Past, Stretch, features, roughness};
use crate::signal::noise::Noise;
use crate::signal::segment::{Change, Segment};
use crate::signal::steadiness::{odds, trees};
use crate::signal::tick::Decimator;
use crate::signal::{Check, CheckedSample, Estimator, Thresholds};
use crate::units::{Counts, FineCounts, Instant};

/// What is compared of a reading: level, standard error, level and ticks if steady, whether it is fresh and has jumped, age, ticks since
/// it was steady.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Told {
    level: FineCounts,
    se: f32,
    steady: Option<(FineCounts, u16)>,
    fresh: bool,
    jumped: bool,
    age: usize,
    lost_for: u16,
}

struct Plain {
    rate: SampleRate,
    thresholds: Thresholds,
    /// Half a division, counts.
    tolerance: f32,
    upwards: i32,
    decimator: Decimator,
    noise: Noise,
    segment: Segment,
    past: Past,
    features: Features,
    /// The tick before which no sign is given, at 80 a second.
    alarmed: u8,
    at: Instant,
    told: Option<Told>,
}

impl Plain {
    fn new(rate: SampleRate, division: f32, thresholds: Thresholds) -> Self {
        Self {
            rate,
            thresholds,
            tolerance: division.abs() / 2.0,
            upwards: division.signum() as i32,
            decimator: Decimator::new(rate),
            noise: Noise::new(),
            segment: Segment::new(),
            past: Past::default(),
            features: [0; COUNT],
            alarmed: 0,
            at: Instant(0),
            told: None,
        }
    }

    fn variance(&self) -> u64 {
        u64::from(self.noise.fine_sigma()).pow(2)
    }

    fn take(&mut self, sample: CheckedSample) -> Option<Told> {
        // Seven tenths of a second with no sample: the converter may have been reset.
        if sample.at().0 - self.at.0 > 700 {
            self.decimator.interrupt();
            self.segment.clear();
            self.told = None;
        }
        self.at = sample.at();
        let ticks = self
            .decimator
            .take(sample.counts(), (6 * self.noise.fine_sigma() / 16) as i32);
        let mut jumped = false;
        for tick in &ticks {
            let mut told = self.judge(*tick);
            jumped |= told.jumped;
            told.jumped = jumped;
            self.told = Some(told);
        }
        if ticks.is_empty()
            && let Some(told) = &mut self.told
        {
            (told.fresh, told.jumped) = (false, false);
        }
        // A touch shows in the words of eighty a second before it shows in a tick.
        if let Some(told) = &mut self.told
            && let Some((level, _)) = told.steady
        {
            let early = self.decimator.early(Counts(level.0.div_euclid(16)));
            if f64::from(early) > 3.0 * f64::from(self.noise.sigma()) {
                (told.steady, told.jumped) = (None, true);
                self.alarmed = 2;
            }
        }
        self.told
    }

    fn judge(&mut self, tick: FineCounts) -> Told {
        let stood = self.segment.len();
        let change = self.segment.take(tick, &self.noise);
        if let Change::Jump(new) = change
            && stood >= new + 3
        {
            let len = (stood + 1 - new).min(32);
            self.past.earlier = self.past.before;
            self.past.before = Stretch {
                level: self.segment.mean_of(new, len),
                len: len as u16,
                roughness: roughness(&self.segment, new, len, self.variance()),
            };
        }
        let len = self.segment.len();
        let mut newest = [0, 1, 2].map(|age| self.segment.back(age));
        newest.sort();
        let level = match (stood, len) {
            (0, _) => tick,
            (_, 1) => newest[1],
            _ => self.segment.mean(len),
        };
        let se = self.noise.standard_error(len);
        self.features = features(
            &self.segment,
            &self.past,
            &Measure {
                variance: self.variance(),
                correlation: (64.0 * self.noise.correlation()) as i8,
                tolerance: (16.0 * self.tolerance) as u32,
                upwards: self.upwards,
            },
        );
        let was_steady = self.told.is_some_and(|told| told.steady.is_some());
        let jumped = matches!(change, Change::Jump(_));
        let good = se < (0.2 + 0.025 * len.min(14) as f32) * self.tolerance;
        let enough = if was_steady {
            self.thresholds.release
        } else {
            self.thresholds.acquire
        };
        let patience = 12 * len.saturating_sub(7).min(64) as i16;
        let sure = odds(&self.features, trees(self.rate)) >= i32::from((enough - patience).max(-224));
        let steady = len >= 2 && !jumped && self.alarmed == 0 && good && sure;
        self.alarmed = self.alarmed.saturating_sub(1);
        if steady {
            (self.past.trusted, self.past.lost_for) = (Some(level), 0);
        } else {
            self.past.lost_for = self.past.lost_for.saturating_add(1);
        }
        if len >= 5 && (steady || !self.noise.is_learnt()) {
            let from = |age| tick.0 - self.segment.back(age).0;
            self.noise.learn(from(1), from(3));
        }
        Told {
            level,
            se,
            steady: steady.then_some((level, len as u16)),
            fresh: true,
            jumped,
            age: len,
            lost_for: self.past.lost_for,
        }
    }
}

/// A bench: noise of some counts a word, a load that changes every few seconds, now and then a hand, a word out of nothing and a pause.
struct Bench {
    state: u32,
    spread: i32,
}

impl Bench {
    fn random(&mut self, below: u32) -> i32 {
        self.state = self.state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        ((u64::from(self.state >> 8) * u64::from(below)) >> 24) as i32
    }

    fn noise(&mut self, spread: i32) -> i32 {
        let below = 2 * spread as u32 + 1;
        self.random(below) + self.random(below) - 2 * spread
    }
}

#[test]
fn every_tick_is_judged_by_its_parts() {
    let usual = Thresholds::usual;
    let strict = Thresholds {
        acquire: 240,
        release: 0,
    };
    for (rate, division, thresholds, spread) in [
        (SampleRate::Ten, 429.5, usual(SampleRate::Ten), 40),
        (SampleRate::Ten, -429.5, usual(SampleRate::Ten), 12),
        (SampleRate::Ten, 214.7, usual(SampleRate::Ten), 90),
        (SampleRate::Ten, 429.5, strict, 120),
        (SampleRate::Eighty, 429.5, usual(SampleRate::Eighty), 60),
        (SampleRate::Eighty, -429.5, usual(SampleRate::Eighty), 250),
    ] {
        let what = format!("{rate:?}, division {division}, spread {spread}");
        let mut estimator = Estimator::new(rate, division);
        estimator.set_thresholds(thresholds);
        let mut plain = Plain::new(rate, division, thresholds);
        let mut check = Check::new(rate);
        let mut bench = Bench { state: 9, spread };
        let (words, span): (u32, u64) = match rate {
            SampleRate::Ten => (9_000, 100),
            SampleRate::Eighty => (30_000, 12),
        };
        let second = 1_000 / span as u32;
        let (mut now, mut level, mut hand) = (0, 90_000, 0);
        // Steady, lost, fresh from a jump; taken away early.
        let mut counted = [0_u32; 4];
        for index in 0..words {
            let spread = bench.spread;
            if bench.random(6 * second) == 0 {
                level += bench.noise(400_000);
                estimator.expect(FineCounts(16 * level + 300));
                plain.past.expected = Some(FineCounts(16 * level + 300));
            }
            if bench.random(3 * second) == 0 {
                hand = [0, 0, spread, 4 * spread, 100 * spread][bench.random(5) as usize];
            }
            let alone = if bench.random(150) == 0 { bench.noise(60_000) } else { 0 };
            // Pauses of seven tenths of a second exactly, of a thousandth more, and long ones.
            let pause = if bench.random(40 * second) == 0 {
                [700, 701, 1_400][bench.random(3) as usize]
            } else {
                span
            };
            let word = level + bench.noise(spread) + bench.noise(hand) + alone;
            now += pause;
            let Ok(sample) = check.judge(Instant(now), Ok(RawSample(Counts(word)))) else {
                continue;
            };
            let got = estimator.take(sample);
            let by_hand = plain.take(sample);
            let told = got.map(|got| Told {
                level: got.level,
                se: got.se,
                steady: got.steady.map(|steady| (steady.level(), steady.ticks())),
                fresh: got.fresh,
                jumped: got.jumped,
                age: got.age,
                lost_for: got.lost_for,
            });
            assert_eq!(told, by_hand, "word {index}, {what}");
            assert_eq!(estimator.reading(), got);
            assert_eq!(estimator.is_contradicted(), plain.decimator.holds());
            let Some(got) = got else { continue };
            if got.fresh {
                assert_eq!(estimator.features(), &plain.features, "word {index}, {what}");
                assert_eq!(got.noise, plain.noise.sigma(), "word {index}, {what}");
                if let Some(steady) = got.steady {
                    assert_eq!((steady.se(), steady.at()), (got.se, sample.at()));
                }
            }
            counted[0] += u32::from(got.steady.is_some());
            counted[1] += u32::from(got.lost_for > 0);
            counted[2] += u32::from(got.jumped && got.fresh);
            counted[3] += u32::from(got.jumped && !got.fresh);
        }
        let early = if rate == SampleRate::Eighty { 5 } else { 0 };
        assert!(
            counted[0] > 500 && counted[1] > 500 && counted[2] > 100 && counted[3] >= early,
            "{counted:?}, {what}"
        );
    }
}

/// A sign is given when the odds are clearly for rest, and taken away when they are against it: not at each tick between.
#[test]
fn a_sign_is_harder_to_get_than_to_keep() {
    for rate in [SampleRate::Ten, SampleRate::Eighty] {
        let usual = Thresholds::usual(rate);
        // 64ths of a natural logarithm of odds: 64 is e to 1.
        assert!(usual.acquire > 64 && (-64..0).contains(&usual.release), "{usual:?}");
    }
}
