//! A script played on a simulated scale, every millisecond of it, into a [`Lesson`].

use core::f64::consts::TAU;

use yarn_scale_core::converter::SampleRate;

use super::labels::{Lesson, Tick};
use super::scene::{Script, Touch};
use crate::world::{Noise, Platform, Stream, Unit, ease};

/// Plays `script` on `unit`. The platform rings, the converter weights its last four intervals with a cubic B-spline (its sinc of
/// fourth order), creep and noise are added; hysteresis, bow and temperature do not matter within two minutes.
pub(super) fn play(script: &Script, unit: &Unit, rate: SampleRate, random: &mut Stream) -> Lesson {
    let period = unit.period_s(rate);
    let steps = (period / 0.001_2).ceil().max(8.0) as usize;
    let dt = period / steps as f64;
    let kernel = spline(steps);
    let mut platform = Platform::new(unit, dt);
    let lying = |t: f64| {
        script
            .changes
            .iter()
            .map(|c| c.grams * ease(t, c.from, c.to))
            .sum::<f64>()
    };
    platform.rest(lying(0.0));
    let mut history = vec![lying(0.0); kernel.len()];
    let mut newest = 0;
    let mut noise = Noise::new(
        unit.seed,
        unit.white_counts(rate),
        unit.noise_through_filter,
        unit.flicker_counts,
        period,
    );
    let mut slow: Vec<f64> = script.touches.iter().map(|_| random.normal()).collect();
    let mut crept = [lying(0.0); 2];
    // Whether a hand takes the ringing away as long as it is there is left open.
    let damped = random.chance(0.5);
    let mut ticks = Vec::new();
    let mut t = 0.0;
    while t < script.seconds {
        for step in 1..=steps {
            let at = t + step as f64 * dt;
            let still = lying(at);
            let hands: f64 = script
                .touches
                .iter()
                .zip(&mut slow)
                .map(|(touch, slow)| force(touch, slow, at, dt, random))
                .sum();
            let tugs: f64 = script
                .tugs
                .iter()
                .filter(|tug| at >= tug.from && at < tug.gone(1e-4))
                .map(|tug| tug.force(at))
                .sum();
            let shaken = still + unit.platform_g;
            let shaking: f64 = script
                .shaking
                .iter()
                .filter(|d| at >= d.span().0 && at < d.span().1)
                .map(|d| d.force(at, shaken))
                .sum();
            history[newest] = platform.step(still + hands + tugs + shaking, damped && hands != 0.0);
            newest = (newest + 1) % history.len();
        }
        t += period;
        let settled = lying(t);
        for (level, tau) in crept.iter_mut().zip(unit.creep_s) {
            *level += (settled - *level) * -(-period / tau).exp_m1();
        }
        let creep = unit.creep * (0.37 * crept[0] + 0.68 * crept[1]);
        let (new, old) = history.split_at(newest);
        let clean: f64 = old.iter().chain(new).zip(&kernel).map(|(x, w)| x * w).sum::<f64>() + creep;
        let counts = unit.zero_counts + unit.counts_per_g * clean + noise.draw();
        ticks.push(Tick {
            at: t,
            raw: Some(counts.round() as i32),
            clean_g: clean,
            settled_g: settled + creep,
        });
    }
    let span = |knots: &[(f64, f64)]| Some((knots.first()?.0, knots.last()?.0));
    Lesson {
        rate,
        counts_per_g: unit.counts_per_g,
        zero_counts: unit.zero_counts,
        ticks,
        hands: script.touches.iter().filter_map(|touch| span(&touch.knots)).collect(),
        pulls: script.tugs.iter().map(|tug| (tug.from, tug.gone(0.1))).collect(),
    }
}

fn force(touch: &Touch, slow: &mut f64, t: f64, dt: f64, random: &mut Stream) -> f64 {
    let Some(pair) = touch.knots.windows(2).find(|pair| t >= pair[0].0 && t < pair[1].0) else {
        return 0.0;
    };
    let keep = (-dt / touch.fluctuation_s).exp();
    *slow = *slow * keep + (1.0 - keep * keep).sqrt() * random.normal();
    let level = pair[0].1 + (pair[1].1 - pair[0].1) * ease(t, pair[0].0, pair[1].0);
    let tremor = TREMOR * core::f64::consts::SQRT_2 * (TAU * touch.tremor_hz * t).sin();
    level * (1.0 + touch.fluctuation * *slow + tremor)
}

/// Four running means of `steps` one after the other.
fn spline(steps: usize) -> Vec<f64> {
    let mut kernel = vec![1.0];
    for _ in 0..4 {
        let mut wider = vec![0.0; kernel.len() + steps - 1];
        for (i, weight) in kernel.iter().enumerate() {
            for value in &mut wider[i..i + steps] {
                *value += weight / steps as f64;
            }
        }
        kernel = wider;
    }
    kernel
}

/// Standard deviation of a hand's tremor as a share of its force.
const TREMOR: f64 = 0.012;
