//! Yarn takes up water from damp air, within hours. A humidity sensor tells how much the air has changed; the cake follows it late.

use yarn_scale_core::app::Input;
use yarn_scale_core::board::Climate;
use yarn_scale_core::measured::Measured;
use yarn_scale_core::screen::{Body, Notice};
use yarn_scale_tests::bench::{Bench, Key};

use crate::several_pairs::mark;

/// Cuff 1 took 5 g of B, of which `left` g remain after cuff 2 if the air stays as it was, 40 %. After so many hours cuff 2 is done, which
/// took as much; the sensor shows `humidity`, and the cake weighs `grams`: the scale at MARK.
fn second_cuff(left: f64, hours: f64, humidity: f32, grams: f64) -> Bench {
    let air = |bench: &mut Bench, humidity_percent| {
        let celsius = 20.0;
        bench.tell(Input::Climate(Climate {
            humidity_percent,
            celsius,
        }));
    };
    let mut bench = Bench::new();
    air(&mut bench, 40.0);
    bench.press(Key::Mark);
    bench.press(Key::Mark);
    // Both at a time: the second order.
    bench.press(Key::Next);
    bench.press(Key::Mark);
    mark(&mut bench, left + 10.0);
    mark(&mut bench, left + 5.0);
    bench.plug(true);
    bench.pause(hours * 3_600.0);
    air(&mut bench, humidity);
    // The first key wakes it, and the empty pan is seen.
    bench.press(Key::Zero);
    bench.wait(4.0);
    bench.put(grams);
    bench.press(Key::Mark);
    bench
}

fn used(bench: &Bench) -> Measured {
    match bench.notice() {
        Notice::Noted { used, .. } => used,
        other => panic!("{other:?}"),
    }
}

/// The air has become 30 % damper, and the 30 g that are left weigh up to 1.4 g more, the less the later it changed: whichever it was lies
/// within what is stated. Wool and polyamide weigh 4.6 % more then, by core's table of regains, which is tested
/// against published ones; how fast they follow is the assumption that `core/src/sock/moisture.rs` states.
#[test]
fn a_leap_of_the_air_is_within_what_is_stated() {
    for (hours, heaviest) in [(0.02, 30.0), (1.0, 30.5), (4.0, 31.1), (8.0, 31.35), (24.0, 31.38)] {
        for share in [0.7, 1.0] {
            let grams = 30.0 + share * (heaviest - 30.0);
            let used = used(&second_cuff(30.0, hours, 70.0, grams));
            let off = (used.value.0 - 5_000).abs() as f32;
            assert!(off <= 1.96 * used.u, "{hours} h, {grams} g: {used:?}");
            assert!(used.u < 400.0, "{hours} h: {used:?}");
        }
    }
}

/// Of 100 g the damp air alone makes as much as the cuff took.
#[test]
fn what_the_sensor_explains_is_not_asked_about() {
    let used = used(&second_cuff(100.0, 24.0, 70.0, 104.2));
    assert!((used.value.0 - 5_000).abs() < 1_000, "{used:?}");
    let without_change = second_cuff(100.0, 24.0, 40.0, 104.2);
    assert!(
        matches!(without_change.body(), Body::Question(_)),
        "{:?}",
        without_change.body()
    );
}
