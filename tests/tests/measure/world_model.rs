//! The simulated world against what is published or agreed about its parts.
//!
//! Figures "by the model" are the parameters of the project's own signal model (engineering assumptions); others name their source.

use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::lab::measure::scenario;
use yarn_scale_sim::world::{Body, DigitalFault, Noise, Room, Stream, Unit, World, seen};

fn perfect(rate: SampleRate) -> World {
    World::new(Unit::perfect(), rate, Room::constant())
}

fn grams(world: &World, counts: f64) -> f64 {
    world.calibration().grams(counts)
}

fn clean(world: &mut World, seconds: f64) -> Vec<(f64, f64)> {
    let mut all = Vec::new();
    let until = world.now() + seconds;
    let calibration = world.calibration();
    world.advance(until, |c| all.push((c.at, calibration.grams(c.truth.clean_counts))));
    all
}

fn sd(values: &[f64]) -> f64 {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (values.len() - 1) as f64).sqrt()
}

fn lag(values: &[f64], by: usize) -> f64 {
    let square: f64 = values.iter().map(|v| v * v).sum();
    values.iter().zip(&values[by..]).map(|(a, b)| a * b).sum::<f64>() / square
}

/// 50 nV at 10 samples a second and 90 nV at 80, gain 128 (HX711 data sheet), at 2.002 nV a count: by the model 5.8 and 10.5 mg on a
/// 500 g cell, 11.6 and 20.9 mg on a 1 kg cell.
#[test]
fn white_noise_is_the_data_sheets() {
    for (capacity, rate, expected_mg) in [
        (500.0, SampleRate::Ten, 5.8),
        (1_000.0, SampleRate::Ten, 11.6),
        (500.0, SampleRate::Eighty, 10.5),
        (1_000.0, SampleRate::Eighty, 20.9),
    ] {
        let perfect = Unit::perfect();
        let unit = Unit {
            noise_factor: 1.0,
            noise_through_filter: false,
            counts_per_g: perfect.counts_per_g * 500.0 / capacity,
            cell_capacity_g: capacity,
            ..perfect
        };
        let mut world = World::new(unit, rate, Room::constant());
        let mut shown = Vec::new();
        let calibration = world.calibration();
        world.advance(if rate == SampleRate::Ten { 2_000.0 } else { 250.0 }, |c| {
            shown.push(1_000.0 * calibration.grams(f64::from(c.raw.expect("no faults were asked for"))));
        });
        let measured = sd(&shown);
        assert!(
            (measured / expected_mg - 1.0).abs() < 0.02,
            "{measured} mg, expected {expected_mg}"
        );
    }
}

/// White noise through a sinc of fourth order: the B-spline of degree seven at the integers, 2416 : 1191 : 120 : 1. The standard error of a
/// mean of n is sigma x sqrt(2.09 / n) by the model.
#[test]
fn filtered_noise_is_correlated_as_behind_a_fourth_order_sinc() {
    let mut noise = Noise::new(7, 1.0, true, 0.0, 0.1);
    let values: Vec<f64> = (0..400_000).map(|_| noise.draw()).collect();
    assert!((sd(&values) - 1.0).abs() < 0.01);
    assert!((lag(&values, 1) - 1_191.0 / 2_416.0).abs() < 0.01);
    assert!((lag(&values, 2) - 120.0 / 2_416.0).abs() < 0.01);
    assert!(lag(&values, 4).abs() < 0.01);
    let means: Vec<f64> = values.chunks(100).map(|c| c.iter().sum::<f64>() / 100.0).collect();
    let factor = sd(&means).powi(2) * 100.0;
    assert!(
        (factor - 2.09).abs() < 0.15,
        "variance of a mean of 100 is {factor} / 100"
    );
}

/// What an ideal observer is told of the noise is what is drawn.
#[test]
fn stated_covariance_is_that_of_what_is_drawn() {
    for through_filter in [false, true] {
        let mut noise = Noise::new(11, 3.0, through_filter, 1.0, 0.1);
        let stated = [0, 1, 2, 4, 20].map(|lag| noise.covariance(lag) - noise.covariance(60));
        let values: Vec<f64> = (0..600_000).map(|_| noise.draw()).collect();
        // By differences, which do not see what wanders for longer than all of it: half the mean square of one is variance less covariance.
        let half_square = |lag: usize| {
            let sum: f64 = values.iter().zip(&values[lag..]).map(|(a, b)| (a - b).powi(2)).sum();
            sum / (2.0 * (values.len() - lag) as f64)
        };
        for (lag, stated) in [0, 1, 2, 4, 20].into_iter().zip(stated) {
            let drawn = half_square(60) - half_square(lag);
            assert!((drawn - stated).abs() < 0.06, "{lag} apart: {drawn}, stated {stated}");
        }
    }
}

/// The Allan deviation of white noise falls as one over the root of the averaging factor (NIST SP 1065); that of 1/f noise does not fall.
#[test]
fn allan_deviation_tells_white_from_flicker() {
    let deviation = |values: &[f64], m: usize| {
        let means: Vec<f64> = values
            .chunks_exact(m)
            .map(|c| c.iter().sum::<f64>() / m as f64)
            .collect();
        let differences: f64 = means.windows(2).map(|w| (w[1] - w[0]).powi(2)).sum();
        (differences / (2.0 * (means.len() - 1) as f64)).sqrt()
    };
    let mut white = Noise::new(3, 1.0, false, 0.0, 0.1);
    let white: Vec<f64> = (0..300_000).map(|_| white.draw()).collect();
    let ratio = deviation(&white, 100) / deviation(&white, 1);
    assert!((ratio * 10.0 - 1.0).abs() < 0.1, "white: {ratio}");
    let mut flicker = Noise::new(3, 0.0, false, 1.0, 0.1);
    let flicker: Vec<f64> = (0..1_500_000).map(|_| flicker.draw()).collect();
    let ratio = deviation(&flicker, 1_000) / deviation(&flicker, 100);
    assert!((0.8..1.25).contains(&ratio), "flicker: {ratio}");
    // For a power density of K^2 / f the Allan variance is 2 ln 2 x K^2 (NIST SP 1065), and a decade holds K^2 ln 10.
    let expected = (2.0 * 2_f64.ln() / 10_f64.ln()).sqrt();
    assert!((deviation(&flicker, 300) / expected - 1.0).abs() < 0.2);
}

/// A step is spread over four conversions (HX711 data sheet: settled after four, 400 ms at 10 samples a second).
#[test]
fn a_step_settles_in_four_conversions() {
    for rate in [SampleRate::Ten, SampleRate::Eighty] {
        let unit = Unit {
            resonance_hz: 4_000.0,
            damping: 0.7,
            ..Unit::perfect()
        };
        let mut world = World::new(unit, rate, Room::constant());
        clean(&mut world, 1.0);
        world.put(Body::dry(100.0));
        let period = world.period_s();
        let after = clean(&mut world, 6.5 * period);
        let expected = [1.0 / 24.0, 12.0 / 24.0, 23.0 / 24.0, 1.0, 1.0];
        for ((_, value), share) in after.iter().zip(expected) {
            assert!(
                (value / 100.0 - share).abs() < 1e-3,
                "{value} g, expected {share} of 100 g"
            );
        }
    }
}

/// Integral of the kernel: exact rational values of the cubic B-spline.
#[test]
fn kernel_is_a_cubic_b_spline() {
    for (s, share) in [
        (0.0, 0.0),
        (1.0, 1.0 / 24.0),
        (2.0, 0.5),
        (3.0, 23.0 / 24.0),
        (4.0, 1.0),
        (0.5, 1.0 / 384.0),
    ] {
        assert!((seen(s) - share).abs() < 1e-12);
    }
}

/// By the model: the creep figure is the share of the load after 30 min, and what crept comes back after unloading.
#[test]
fn creep_reaches_its_figure_in_half_an_hour_and_recovers() {
    for creep in [0.000_5, -0.000_2] {
        let mut world = World::new(
            Unit {
                creep,
                ..Unit::perfect()
            },
            SampleRate::Ten,
            Room::constant(),
        );
        let load = world.put(Body::dry(200.0));
        let run = clean(&mut world, 1_800.0);
        let at = |seconds: f64| run.iter().find(|(t, _)| *t >= seconds).expect("recorded").1;
        let crept = (run[run.len() - 1].1 - 200.0) / 200.0;
        assert!((crept / creep - 1.0).abs() < 0.01, "{crept}");
        // 35 % of it is fast (60 s here): after three minutes about half has come.
        let early = (at(180.0) - 200.0) / 200.0 / creep;
        assert!((0.45..0.60).contains(&early), "{early}");
        world.take(load);
        let back = clean(&mut world, 3_600.0);
        let just_after = back.iter().find(|(t, _)| *t > 1_805.0).expect("recorded").1;
        assert!(
            (just_after / (200.0 * creep) - 1.0).abs() < 0.1,
            "zero after unloading: {just_after}"
        );
        assert!((back[back.len() - 1].1 / (200.0 * creep)).abs() < 0.01);
    }
}

/// By the model: the widest gap between loading and unloading is the unit's figure, in rated load.
#[test]
fn hysteresis_loop_opens_by_its_figure() {
    let mut world = World::new(
        Unit {
            hysteresis: 0.000_4,
            ..Unit::perfect()
        },
        SampleRate::Ten,
        Room::constant(),
    );
    let mut up_and_down = [[0.0; 11]; 2];
    let mut lying = Vec::new();
    // Twice: the loop closes.
    for round in 0..2 {
        for (index, way) in [0, 1].into_iter().flat_map(|way| (0..11).map(move |i| (i, way))) {
            if way == 0 && index > 0 {
                lying.push(world.put(Body::dry(50.0)));
            } else if way == 1 && index > 0 {
                world.take(lying.pop().expect("put before"));
            }
            let seen = clean(&mut world, 3.0);
            if round == 1 {
                up_and_down[way][if way == 0 { index } else { 10 - index }] = seen[seen.len() - 1].1;
            }
        }
    }
    let gap = (0..11)
        .map(|i| up_and_down[1][i] - up_and_down[0][i])
        .fold(0.0, f64::max);
    assert!((gap / (0.000_4 * 500.0) - 1.0).abs() < 0.15, "{gap} g");
    for (index, shown) in up_and_down[0].iter().enumerate() {
        assert!(
            (shown - 50.0 * index as f64).abs() < 0.01,
            "loading is straight: {shown} g at step {index}"
        );
    }
}

/// By the model: 100 g of wool, 5 % more humidity: 1 g in the end, 0.17 g an hour at first (0.2 % of mass a per cent, 6 h).
#[test]
fn wool_takes_a_gram_of_water() {
    let mut world = perfect(SampleRate::Ten);
    world.power(false);
    let cake = world.put(Body::wool(100.0));
    world.put(Body::dry(100.0));
    world.room.humidity += 5.0;
    let mass = |world: &World| world.pan().body(cake).expect("it lies there").mass_g();
    world.advance(360.0, |_| {});
    assert!(
        ((mass(&world) - 100.0) * 10.0 - 0.1667).abs() < 0.003,
        "g an hour at first"
    );
    world.advance(3_600.0, |_| {});
    assert!(
        (mass(&world) - 100.0 - 0.1535).abs() < 0.002,
        "after an hour: 1 - exp(-1/6)"
    );
    world.advance(3.0 * 86_400.0, |_| {});
    assert!((mass(&world) - 101.0).abs() < 1e-3);
    assert!((world.load_g() - 201.0).abs() < 1e-3, "a coin takes no water");
}

/// A body's free oscillation has the unit's frequency and its logarithmic decrement 2 pi zeta / sqrt(1 - zeta^2) (textbook).
#[test]
fn the_pan_rings_as_its_resonance_says() {
    let unit = Unit {
        resonance_hz: 10.0,
        damping: 0.03,
        ..Unit::perfect()
    };
    let mut world = World::new(unit, SampleRate::Eighty, Room::constant());
    world.put(Body::dry(100.0));
    let run = clean(&mut world, 3.0);
    let mut crossings = Vec::new();
    let mut peaks: Vec<f64> = Vec::new();
    for pair in run.windows(3).skip(8) {
        let [a, b, c] = [pair[0].1 - 100.0, pair[1].1 - 100.0, pair[2].1 - 100.0];
        if a < 0.0 && b >= 0.0 {
            crossings.push(pair[0].0 + (pair[1].0 - pair[0].0) * a / (a - b));
        }
        if b > a && b > c && b > 0.0 {
            peaks.push(b - (a - c).powi(2) / (8.0 * (a + c - 2.0 * b)));
        }
    }
    let hz = 10.0 / (crossings[10] - crossings[0]);
    assert!((hz - 10.0).abs() < 0.05, "{hz} Hz");
    let decrement = (peaks[0] / peaks[10]).ln() / 10.0;
    assert!((decrement - core::f64::consts::TAU * 0.03).abs() < 0.01, "{decrement}");
}

/// By the model: zero moves by its figure in 10 K, span by its own.
#[test]
fn temperature_moves_zero_and_span() {
    let unit = Unit {
        zero_per_10k: -0.000_4,
        span_per_10k: 0.000_3,
        ..Unit::perfect()
    };
    let mut world = World::new(unit, SampleRate::Ten, Room::constant());
    world.power(false);
    world.room.celsius += 10.0;
    world.advance(6.0 * 3_600.0, |_| {});
    world.power(true);
    let unloaded = clean(&mut world, 2.0);
    assert!((unloaded[unloaded.len() - 1].1 + 0.2).abs() < 1e-3);
    world.put(Body::dry(400.0));
    let loaded = clean(&mut world, 10.0);
    assert!((loaded[loaded.len() - 1].1 - (400.0 - 0.2 + 0.12)).abs() < 1e-3);
}

/// Every fault spoils what it says and no more; the reset takes five words.
#[test]
fn faults_spoil_their_words_only() {
    for (fault, words) in [
        (DigitalFault::BitFlip(20), 1),
        (DigitalFault::AllOnes, 1),
        (DigitalFault::Saturated, 1),
        (DigitalFault::Zero, 1),
        (DigitalFault::Shifted, 1),
        (DigitalFault::MissingWord, 1),
        (DigitalFault::Reset, 5),
    ] {
        let mut world = perfect(SampleRate::Ten);
        world.put(Body::dry(50.0));
        clean(&mut world, 5.0);
        world.spoil(fault, world.now());
        let mut wrong = 0;
        let until = world.now() + 2.0;
        world.advance(until, |c| {
            let right = c.truth.clean_counts.round();
            if c.raw.is_none_or(|raw| (f64::from(raw) - right).abs() > 1.0) {
                wrong += 1;
                assert_eq!(c.truth.fault, Some(fault));
            }
        });
        assert!(wrong <= words && wrong >= words.min(4), "{fault:?} spoilt {wrong}");
    }
}

/// A reversed cell says the same grams through its own calibration.
#[test]
fn a_reversed_cell_weighs_alike() {
    let straight = Unit::draw(5);
    let reversed = straight.clone().reversed();
    let shown = |unit: Unit| {
        let mut world = World::new(unit, SampleRate::Ten, Room::constant());
        world.put(Body::dry(80.0));
        let run = clean(&mut world, 10.0);
        run[run.len() - 1].1
    };
    assert!((shown(straight) - shown(reversed)).abs() < 1e-9);
}

/// Yarn drawn from a cake is gone from the load, exactly and only between its instants.
#[test]
fn drawn_yarn_is_gone() {
    let mut world = perfect(SampleRate::Ten);
    let cake = world.put(Body::wool(60.0));
    world.draw_yarn(cake, 3.0, 9.0, 4.0);
    world.advance(6.0, |_| {});
    assert!((world.load_g() - 58.0).abs() < 0.1);
    world.advance(20.0, |_| {});
    assert!((world.load_g() - 56.0).abs() < 1e-9);
    let shown = clean(&mut world, 2.0);
    assert!((shown[shown.len() - 1].1 - 56.0).abs() < 1e-3);
    assert!((grams(&world, world.calibration().zero_counts)).abs() < 1e-12);
}

/// Every unit drawn stays inside the model's ranges, and both ends of each are reached.
#[test]
fn units_fill_their_ranges() {
    let units: Vec<Unit> = (0..2_000).map(Unit::draw).collect();
    let range = |of: fn(&Unit) -> f64, low: f64, high: f64| {
        let values: Vec<f64> = units.iter().map(of).collect();
        let (least, most) = values
            .iter()
            .fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(*v), b.max(*v)));
        let slack = 0.02 * (high - low);
        assert!(least >= low && most <= high, "{least} to {most} leaves {low} to {high}");
        assert!(
            least < low + slack && most > high - slack,
            "{least} to {most} does not fill {low} to {high}"
        );
    };
    range(|u| u.noise_factor, 1.0, 6.0);
    range(|u| u.rate_error, -0.05, 0.12);
    range(|u| u.creep.abs(), 0.000_2, 0.000_5);
    range(|u| u.hysteresis, 0.000_2, 0.000_5);
    range(|u| u.bow, -0.000_4, 0.000_4);
    range(|u| u.zero_per_10k.abs(), 0.000_2, 0.000_5);
    range(|u| u.warm_up.abs(), 0.000_1, 0.000_5);
    range(|u| u.resonance_hz, 8.0, 20.0);
    range(|u| u.damping, 0.015, 0.08);
    let through = units.iter().filter(|u| u.noise_through_filter).count();
    assert!((900..1_100).contains(&through));
}

/// The same seed gives the same words; another seed gives others.
#[test]
fn a_seed_determines_everything() {
    let words = |seed| -> Vec<Option<i32>> {
        scenario::handlings(Unit::draw(seed), SampleRate::Ten)
            .conversions
            .iter()
            .map(|c| c.raw)
            .collect()
    };
    assert_eq!(words(11), words(11));
    assert_ne!(words(11), words(12));
    let mut first = Stream::new(1, 1);
    let mut other = Stream::new(1, 2);
    assert_ne!(first.normal().to_bits(), other.normal().to_bits());
}
