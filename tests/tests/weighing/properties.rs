//! What the weighing arithmetic can never do, whatever it is given.

use proptest::prelude::*;
use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::{Calibration, Condition, Conditions, Indication, Point, Scale, Unit};

const CAPACITY: Milligrams = Milligrams(500_000);

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
