//! What the weighing arithmetic can never do, whatever it is given.

use proptest::prelude::*;
use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::units::{Counts, Duration, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::creep::Creep;
use yarn_scale_core::weighing::fit;
use yarn_scale_core::weighing::zero::{Settled, Zero};
use yarn_scale_core::weighing::{Calibration, Condition, Conditions, Indication, PanState, Point, Scale, Unit};

const CAPACITY: Milligrams = Milligrams(500_000);

fn points() -> impl Strategy<Value = Vec<(f32, f32)>> {
    prop::collection::vec((-1e6_f32..1e6, -1e6_f32..1e6), 0..10)
}

/// Points of a cell with this many counts a gram and this bow at half load (share of capacity), each a little off.
fn weighed(per_gram: f64, bow: f64, loads: &[i32], off: &[i32]) -> Vec<Point> {
    let level = |mg: f64| {
        let part = mg / 500_000.0;
        let bent = mg + bow * 500_000.0 * 4.0 * part * (1.0 - part);
        (16.0 * (90_000.0 + per_gram * bent / 1_000.0)).round() as i32
    };
    let all = std::iter::once(&0).chain(loads);
    all.zip(off.iter().cycle())
        .map(|(load, off)| Point {
            load: Milligrams(*load),
            cup: false,
            u: 3.0,
            level: FineCounts(level(f64::from(*load)) + off),
        })
        .collect()
}

proptest! {
    /// A fit of anything is a fit or none, never NaN or infinite; and a parabola misses no more than a line.
    #[test]
    fn fits_are_numbers(points in points()) {
        for fit in [fit::polynomial(&[], &points, 1), fit::polynomial(&[], &points, 2), fit::polynomial(&points, &[], 1), fit::polynomial(&points, &points, 2)].into_iter().flatten() {
            prop_assert!([fit.b0, fit.b1, fit.b2, fit.residual_sd, fit.slope_sd].iter().all(|x| x.is_finite()), "{fit:?}");
            prop_assert!(fit.residual_sd >= 0.0 && fit.slope_sd >= 0.0);
        }
        if let (Some(line), Some(parabola)) = (fit::polynomial(&[], &points, 1), fit::polynomial(&[], &points, 2)) {
            let squares = |fit: fit::Fit, parameters: usize| {
                f64::from(fit.residual_sd).powi(2) * points.len().saturating_sub(parameters) as f64
            };
            prop_assert!(squares(parabola, 3) <= squares(line, 2) * 1.001 + 1.0);
        }
    }

    /// A line through points of a line is that line, wherever it lies.
    #[test]
    fn a_line_is_found_again(a in -1e3_f32..1e3, b in 1e-2_f32..1e2, at in -1e4_f32..1e4, n in 2_usize..9) {
        let points: Vec<_> = (0..n).map(|i| at + 700.0 * i as f32).map(|x| (x, a + b * x)).collect();
        let line = fit::polynomial(&[], &points, 1).expect("determined");
        let reach = 700.0 * (n - 1) as f32;
        let slack = 4e-6 * (a.abs() + b * (at.abs() + reach)) / reach;
        prop_assert!((line.b1 - b).abs() <= slack, "{} for {b}", line.b1);
    }

    /// What is proven gives back the masses it was proven with, rises with the load, also on a reversed cell, and knows how sure it is.
    #[test]
    fn a_proven_calibration_weighs_its_own_points(
        per_gram in prop_oneof![2_000.0..5_000.0, -5_000.0..-2_000.0],
        bow in -5e-4..5e-4,
        loads in prop::collection::vec(30_000..500_000, 1..7),
        off in prop::collection::vec(-400..400, 1..8),
    ) {
        let points = weighed(per_gram, bow, &loads, &off);
        let Ok(proof) = Calibration::prove(&points, CAPACITY) else { return Ok(()) };
        let calibration = proof.calibration;
        prop_assert!(calibration.u_span().is_finite() && calibration.u_span() > 0.0);
        prop_assert!(proof.largest_residual.is_finite() && proof.residual_sd.is_finite());
        for point in &points {
            let mass = calibration.mass(point.level, calibration.zero());
            let miss = (mass - point.load.0 as f32).abs();
            prop_assert!(miss <= proof.largest_residual * 1.01 + 5.0, "{miss} mg off, {} stated", proof.largest_residual);
        }
        let step = if per_gram > 0.0 { 16_000 } else { -16_000 };
        let masses: Vec<f32> = (0..100).map(|i| calibration.mass(FineCounts(i * step), FineCounts(0))).collect();
        prop_assert!(masses.windows(2).all(|pair| pair[0] < pair[1]), "does not rise");
    }

    /// A calibration that comes out of a damaged record is refused or sound.
    #[test]
    fn a_stored_calibration_is_sound_or_refused(bytes in prop::collection::vec(any::<u8>(), 20..24), special in 0_usize..5, bits in any::<u32>()) {
        let mut bytes = bytes;
        // Something near a real record: zero, then four numbers, one of which is anything.
        let fields: Vec<u8> = [0.233_f32, 1e-9, 2e-4, 3.0]
            .iter()
            .enumerate()
            .flat_map(|(at, value)| if at == special { f32::from_bits(bits) } else { *value }.to_le_bytes())
            .collect();
        if special < 4 {
            bytes = std::iter::once(7).chain(fields).collect();
        }
        let Ok(calibration) = postcard::from_bytes::<Calibration>(&bytes) else { return Ok(()) };
        let conditions = Conditions::of(&calibration, CAPACITY);
        for number in [calibration.mg_per_count(), calibration.u_span(), calibration.bow(), conditions.u_bow, conditions.rated] {
            prop_assert!(number.is_finite(), "{calibration:?}");
        }
        prop_assert!(!calibration.mass(FineCounts(i32::MAX), FineCounts(0)).is_nan());
    }

    /// Whatever the zero did, creep takes off or adds at most five hundredths of a percent of the strain, and the strain never exceeds the
    /// heaviest load by more than its overshoot of 4 %: it cannot invent yarn use of a tenth of a gram for a cake of under 190 g.
    #[test]
    fn creep_cannot_invent_yarn(
        shifts in prop::collection::vec((-5_000.0_f32..5_000.0, -5e5_f32..5e5, 0.0_f32..500.0), 0..40),
        loads in prop::collection::vec((0.0_f32..190_000.0, 0_u32..1_000, 1_usize..900), 1..12),
    ) {
        let mut creep = Creep::new();
        for (shift, strain, u) in shifts {
            creep.learn(shift, strain, u);
            prop_assert!(creep.error(1e5).abs() <= 50.0 + 1e-3, "{}", creep.error(1e5));
            prop_assert!(creep.u(1e5).is_finite() && creep.u(1e5) > 0.0);
        }
        let heaviest = loads.iter().map(|load| load.0).fold(0.0, f32::max);
        let mut strains = vec![0.0];
        for (load, milliseconds, times) in loads {
            for _ in 0..times {
                creep.pass(load, Duration(milliseconds));
            }
            strains.push(creep.strain());
        }
        for strain in &strains {
            prop_assert!((-1.0..=1.04 * heaviest + 1.0).contains(strain), "{strain} under {heaviest}");
            prop_assert!((creep.error(*strain) - creep.error(strains[0])).abs() <= 100.0);
        }
    }

    /// A rest of more than 0.11 g is never the empty pan, whatever lay there before and however far the cell may have moved: that is asked; and
    /// half a gram is not even that.
    #[test]
    fn a_load_is_never_taken_for_the_empty_pan(
        gross in 110.1_f32..500_000.0, noise in 0.0_f32..1e3, moved in 0.0_f32..1e4, gone in -1e5_f32..5e5, stood in any::<bool>(),
    ) {
        let mut zero = Zero::stored(FineCounts(0));
        zero.load();
        let level = Settled { gross, above_perhaps: None, noise, moved, gone, rested: stood, stood };
        let state = zero.judge(&level, 500_000.0);
        prop_assert!(state != Some(PanState::Empty));
        prop_assert!(gross <= 500.0 || state == Some(PanState::Loaded));
    }

    /// The number is within half a division when it is new and within seven tenths when it stays; and 1.4 divisions more or less always
    /// show (OIML R 76-1, 3.8.2.2, restated).
    #[test]
    fn a_number_follows(values in prop::collection::vec(-20_000..510_000, 1..50), more in any::<bool>()) {
        for (unit, division) in [(Unit::Gram, 100_000_i64), (Unit::Ounce, 283_495)] {
            let apart = |value: i32, shown: Indication| i64::from(value) * 1_000 - i64::from(shown.steps()) * division;
            let mut shown = Indication::rounded(Milligrams(values[0]), unit);
            prop_assert!(apart(values[0], shown).abs() * 2 <= division);
            for value in &values {
                shown = shown.follow(Milligrams(*value));
                prop_assert!(apart(*value, shown).abs() * 10 <= 7 * division);
                let extra = (1.4 * division as f64 / 1_000.0).ceil() as i32;
                let then = shown.follow(Milligrams(if more { value + extra } else { value - extra }));
                let moved = then.steps() - shown.steps();
                prop_assert!(if more { moved >= 1 } else { moved <= -1 }, "{value} mg shown as {shown}, then {then}");
            }
        }
    }

    /// An uncertainty shrinks by what two readings share and never below nothing; their difference is never surer than the part between.
    #[test]
    fn shared_parts_leave_a_number(
        before in 0..500_000, after in 0..500_000, u in 0.0_f32..1e3, v in 0.0_f32..1e3, per_gram in prop_oneof![500.0_f32..20_000.0, -20_000.0_f32..-500.0],
    ) {
        let calibration = Calibration::straight(FineCounts(0), per_gram).expect("sound");
        let conditions = Conditions::of(&calibration, CAPACITY);
        let (a, b) = (Measured { value: Milligrams(before), u }, Measured { value: Milligrams(after), u: v });
        let own = conditions.own(a);
        prop_assert!(own.u >= 0.0 && own.u <= u * 1.0001, "{} of {u}", own.u);
        let used = conditions.used(a, b);
        prop_assert!(used.u.is_finite() && used.u >= conditions.difference_u(a.value, b.value) * 0.9999);
        prop_assert_eq!(used.value, Milligrams(before - after));
    }

    /// Any words, in any order: no number beside a fault, none that is NaN or infinite, none beyond capacity and nine divisions or twenty below zero;
    /// and the tare comes off to the milligram.
    #[test]
    fn a_readout_is_a_number_or_none(
        words in prop::collection::vec((-8_388_608..8_388_608_i32, 1_usize..25, 60_u64..140), 1..25), tare in 0..50_000, eighty in any::<bool>(),
    ) {
        let rate = if eighty { SampleRate::Eighty } else { SampleRate::Ten };
        let calibration = Calibration::straight(FineCounts(1_600_000), 4_294.967).expect("sound");
        let mut scale = Scale::new(calibration, CAPACITY, rate, None);
        scale.tare(Measured { value: Milligrams(tare), u: 2.0 });
        let mut now = 0;
        for (word, times, apart) in words {
            // Half of the stretches are loads the cell can have, with a little noise.
            let word = if word % 2 == 0 { word / 4 } else { word };
            for n in 0..times {
                now += apart;
                let noisy = (word + [3, -7, 12, -2, 0][n % 5]).clamp(-8_388_608, 8_388_607);
                scale.sample(Instant(now), Ok(RawSample(Counts(noisy))));
                let readout = scale.readout();
                let Some(gross) = readout.gross else {
                    prop_assert!(readout.shown.is_none() && readout.net.is_none());
                    continue;
                };
                prop_assert_eq!(readout.condition, Condition::Weighing);
                prop_assert!(gross.u.is_finite() && gross.u > 0.0, "{gross:?}");
                prop_assert!((-2_001..=500_901).contains(&gross.value.0), "{gross:?}");
                prop_assert_eq!(readout.net.map(|net| net.value), Some(gross.value - Milligrams(tare)));
                prop_assert!(scale.noise().is_finite() && scale.drift().is_finite());
            }
        }
    }
}

/// The same at every milligram within a division, the edges included.
#[test]
fn one_and_four_tenths_of_a_division_always_show() {
    for at in 4_900..=5_100 {
        let shown = Indication::rounded(Milligrams(5_000), Unit::Gram).follow(Milligrams(at));
        let (more, less) = (shown.follow(Milligrams(at + 140)), shown.follow(Milligrams(at - 140)));
        assert!(
            more.steps() > shown.steps() && less.steps() < shown.steps(),
            "{at} mg shown as {shown}, then {more} and {less}"
        );
    }
}

/// Points at one abscissa determine neither a slope nor a bend, however many they are and however far apart they lie.
#[test]
fn points_at_one_place_make_no_line() {
    for points in [
        &[(3.0_f32, 1.0_f32), (3.0, 2.0)][..],
        &[(0.0, 0.0), (0.0, 0.0), (0.0, 100.0)],
        &[(-7e5, 1.0), (-7e5, 2.0), (-7e5, 3.0), (-7e5, 4.0)],
    ] {
        assert_eq!(fit::polynomial(&[], points, 1), None, "{points:?}");
        assert_eq!(fit::polynomial(&[], points, 2), None, "{points:?}");
    }
}

/// A stored calibration with a number that is NaN or infinite is refused, whichever it is.
#[test]
fn a_stored_number_that_is_none_is_refused() {
    let stored = |numbers: [f32; 4]| {
        let bytes: Vec<u8> = std::iter::once(7)
            .chain(numbers.iter().flat_map(|number| number.to_le_bytes()))
            .collect();
        postcard::from_bytes::<Calibration>(&bytes)
    };
    let sound = [0.233, 1e-9, 2e-4, 3.0];
    assert!(stored(sound).is_ok());
    for place in 0..sound.len() {
        for none in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
            let mut numbers = sound;
            numbers[place] = none;
            assert!(stored(numbers).is_err(), "{numbers:?}");
        }
    }
}
