//! The number on the display while it rests, is led to zero and is disturbed: what a knitter sees change, and what she must not.

use std::string::{String, ToString};

use crate::signal::Reading;
use crate::units::{FineCounts, Milligrams};
use crate::weighing::display::Display;
use crate::weighing::{Indication, Unit};

fn moving(age: usize, lost_for: u16) -> Reading {
    Reading {
        level: FineCounts(0),
        se: 5.0,
        steady: None,
        fresh: true,
        jumped: age == 1,
        age,
        lost_for,
        noise: 30.0,
    }
}

fn shown(display: &mut Display) -> String {
    display.show(Milligrams(0), false);
    display.shown().expect("a number").to_string()
}

fn settled(mg: f32) -> Display {
    let mut display = Display::new();
    display.settle_at(mg);
    display.show(Milligrams(0), false);
    display
}

fn near(value: Option<f32>, mg: f32, within: f32) {
    let value = value.expect("a value");
    assert!((value - mg).abs() <= within, "{value} mg, not {mg} mg");
}

/// Before the first word there is no number; then it is there at once, and gone when it is forgotten.
#[test]
fn nothing_is_shown_of_nothing() {
    let mut display = Display::default();
    display.show(Milligrams(0), false);
    assert_eq!((display.shown(), display.value()), (None, None));
    display.move_to(1_234.0, &moving(1, 1));
    assert_eq!(shown(&mut display), "1.2");
    display.clear();
    display.show(Milligrams(0), false);
    assert_eq!((display.shown(), display.value()), (None, None));
}

/// The tare comes off, and a press shows at once what is there, not what the resting number would have stayed at.
#[test]
fn a_press_shows_anew() {
    let mut display = settled(10_000.0);
    display.settle_at(10_060.0);
    assert_eq!(
        shown(&mut display),
        "10.0",
        "within seven tenths of a division it stays"
    );
    display.show(Milligrams(0), true);
    assert_eq!(
        display.shown(),
        Some(Indication::rounded(Milligrams(10_060), Unit::Gram))
    );
    display.show(Milligrams(2_500), true);
    assert_eq!(display.shown().expect("a number").to_string(), "7.6");
    display.set_unit(Unit::Ounce);
    assert_eq!((display.unit(), display.shown()), (Unit::Ounce, None));
    assert_eq!(shown(&mut display), "0.35");
    display.settle_at(10_200.0);
    display.set_unit(Unit::Ounce);
    assert_eq!(shown(&mut display), "0.36", "choosing the same unit changes nothing");
}

/// What has not moved does not follow a changed tare by itself: the number beside a mark stays what was marked.
#[test]
fn a_number_that_has_not_moved_stays() {
    let mut display = settled(10_000.0);
    display.show(Milligrams(3_000), false);
    assert_eq!(display.shown().expect("a number").to_string(), "10.0");
}

/// An empty pan's number goes to zero in ticks of 5 mg: half a division a second (OIML R 76-1, 4.5.7), never faster.
#[test]
fn an_empty_pan_is_led_to_zero_at_half_a_division_a_second() {
    for sign in [1.0, -1.0] {
        let mut display = settled(sign * 30.0);
        for tick in 1..=6 {
            display.slide_to(0.0);
            near(display.value(), sign * (30.0 - 5.0 * tick as f32), 0.01);
        }
        display.slide_to(0.0);
        near(display.value(), 0.0, 0.01);
    }
}

/// Of up to 0.4 of a division all goes at that pace; of up to 0.8 as much and of up to 1.8 half; of more all but three quarters of a
/// division. What is left goes a hundred times slower.
#[test]
fn what_is_left_of_a_longer_way_goes_far_slower() {
    // Where this zero lies does not matter.
    const ZERO: f32 = 500.0;
    for (way, left) in [
        (39.0, 0.0),
        (60.0, 20.0),
        (79.0, 39.0),
        (100.0, 50.0),
        (170.0, 85.0),
        (190.0, 75.0),
        (400.0, 75.0),
    ] {
        for sign in [1.0, -1.0] {
            let mut display = settled(ZERO + sign * way);
            for _ in 0..100 {
                display.slide_to(ZERO);
            }
            let ticks_slow = 100.0 - (way - left) / 5.0;
            // The last quick step may go up to 5 mg too far.
            let by_hand: f32 = (left - 0.05 * ticks_slow).max(0.0);
            near(display.value(), ZERO + sign * by_hand, 5.1);
            let before = display.value().expect("a value");
            display.slide_to(ZERO);
            let step = (display.value().expect("a value") - before).abs();
            assert!(
                step < 0.051 || (left < 5.0 && step < 5.0),
                "{step} mg in a tick with {by_hand} mg left of {way} mg"
            );
        }
    }
    let mut fresh = Display::new();
    fresh.slide_to(12.0);
    near(fresh.value(), 12.0, 0.0);
}

/// Disturbed, the number stays for 0.8 s; then it follows what is clearly elsewhere.
#[test]
fn a_disturbed_number_stays_and_then_follows() {
    let mut display = settled(20_000.0);
    for tick in 1..=8 {
        display.move_to(45_000.0, &moving(usize::from(tick), tick));
        assert_eq!(shown(&mut display), "20.0", "tick {tick}");
    }
    display.move_to(45_000.0, &moving(9, 9));
    // Nine thirds of the way: 1 - 0.7^9.
    near(display.value(), 45_000.0 - 25_000.0 * 0.7_f32.powi(9), 1.0);
    assert_ne!(shown(&mut display), "20.0");
    for tick in 10..=16 {
        display.move_to(45_000.0, &moving(usize::from(tick), tick));
    }
    assert_eq!(shown(&mut display), "45.0");
}

/// What swings about the mass, as on a floor that is walked on, is not shown, however wide it swings; nor what is near it.
#[test]
fn what_swings_about_the_mass_is_not_shown() {
    for swing in [200.0, 2_000.0, 20_000.0] {
        let mut display = settled(20_000.0);
        for tick in 1..=100_u16 {
            let sign = if tick.is_multiple_of(2) { 1.0 } else { -1.0 };
            display.move_to(20_000.0 + sign * swing, &moving(usize::from(tick % 3), tick));
            assert_eq!(shown(&mut display), "20.0", "tick {tick}");
        }
    }
    // Nor where it swings about a mass that is within its mean swing, though it passes through it.
    let mut display = settled(20_000.0);
    for tick in 1..=100_u16 {
        let swing = [0.0, 1_000.0, 0.0, -1_000.0][usize::from(tick % 4)];
        display.move_to(20_600.0 + swing, &moving(3, tick));
        assert_eq!(shown(&mut display), "20.0", "tick {tick}");
    }
    let mut display = settled(20_000.0);
    for tick in 1..=100 {
        display.move_to(20_240.0, &moving(5, tick));
        assert_eq!(
            shown(&mut display),
            "20.0",
            "two divisions and a half are not clearly elsewhere"
        );
    }
    display.move_to(20_270.0, &moving(5, 101));
    for tick in 102..=120 {
        display.move_to(20_270.0, &moving(5, tick));
    }
    assert_eq!(shown(&mut display), "20.3", "more are");
}

/// Twelve ticks without a jump are shown as they are, though they are not trusted yet; but not within the first 0.8 s.
#[test]
fn what_is_calm_is_shown_before_it_is_trusted() {
    let mut display = settled(20_000.0);
    display.move_to(20_150.0, &moving(11, 9));
    assert_eq!(shown(&mut display), "20.0");
    display.move_to(20_150.0, &moving(12, 10));
    near(display.value(), 20_150.0, 0.01);
    let mut display = settled(20_000.0);
    display.move_to(20_150.0, &moving(12, 8));
    near(display.value(), 20_000.0, 0.01);
}

/// A new disturbance begins at the number, not where the last one had ended.
#[test]
fn a_new_disturbance_begins_at_the_number() {
    let mut display = settled(20_000.0);
    for tick in 1..=8 {
        display.move_to(60_000.0, &moving(1, tick));
    }
    display.settle_at(20_000.0);
    assert_eq!(shown(&mut display), "20.0");
    for tick in 1..=20 {
        display.move_to(20_000.0, &moving(3, tick));
        assert_eq!(shown(&mut display), "20.0", "tick {tick}");
    }
    near(display.value(), 20_000.0, 0.01);
    display.clear();
    display.move_to(33_000.0, &moving(1, 1));
    near(display.value(), 33_000.0, 0.01);
}
