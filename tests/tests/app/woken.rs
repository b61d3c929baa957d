//! A load wakes a dark scale: its number is there in time whatever the moment between two bursts, at both rates of the converter.

use yarn_scale_core::board::Speed;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::screen::Body;
use yarn_scale_sim::device::simulator::Simulator;
use yarn_scale_sim::world::{Body as Thing, Room, Unit, World};

/// A scale with an empty pan that has just gone dark.
fn dark(rate: SampleRate) -> Simulator {
    let mut simulator = Simulator::new(World::new(Unit::typical(3), rate, Room::constant()));
    simulator.switch_on();
    simulator.pass(305.0, |_| {});
    assert_eq!(body(&simulator), Body::Dark);
    simulator
}

fn body(simulator: &Simulator) -> Body {
    simulator.app().expect("the power is on").view().body
}

/// Seconds from the load to a number, and to that of its 21.3 g; it is put on `after` so long in the dark.
fn woken(mut simulator: Simulator, after: f64) -> (f64, f64) {
    simulator.pass(after, |_| {});
    assert_eq!(body(&simulator), Body::Dark);
    simulator.board.world_mut().put(Thing::dry(21.3));
    let put = simulator.now_s();
    let mut first = f64::INFINITY;
    while simulator.now_s() - put < 10.0 {
        simulator.pass(0.01, |_| {});
        let Body::Pan(pan) = body(&simulator) else { continue };
        let Some(shown) = pan.shown else { continue };
        first = first.min(simulator.now_s() - put);
        if (208..=218).contains(&shown.steps()) {
            return (first, simulator.now_s() - put);
        }
    }
    (first, f64::INFINITY)
}

#[test]
fn a_load_has_its_number_within_three_seconds_or_one() {
    for (rate, limit, every) in [(SampleRate::Ten, 3.0, 2.0), (SampleRate::Eighty, 1.0, 0.6)] {
        let dark = dark(rate);
        for step in 0..60 {
            let after = 4.0 + every * f64::from(step) / 60.0;
            let (number, its_grams) = woken(dark.copy(), after);
            assert!(number < limit, "{rate:?}, {after} s: {number:.2} s");
            // A load that lands in the middle of a burst is first seen landing; that number is hollow.
            assert!(its_grams < limit + 0.5, "{rate:?}, {after} s: {its_grams:.2} s");
        }
    }
}

/// Nothing is drawn there, so that the slow clock has time enough for the samples of a burst, at eighty a second too.
#[test]
fn in_the_dark_the_clock_is_slow_at_either_rate() {
    for rate in [SampleRate::Ten, SampleRate::Eighty] {
        let mut simulator = dark(rate);
        let mut fast = 0;
        simulator.pass(30.0, |simulator| {
            fast += u32::from(simulator.board.speed() == Speed::Fast);
        });
        assert_eq!(fast, 0, "{rate:?}");
    }
}
