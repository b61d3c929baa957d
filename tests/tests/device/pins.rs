//! The device's table of wires: consistent in itself, and the one that the set-up follows.

use std::collections::BTreeSet;

use yarn_scale_firmware::rp2040::pins::{DISPLAY_ADDRESS, HUMIDITY_ADDRESS, WIRES};

const SETUP: &str = include_str!("../../../firmware/src/rp2040/setup.rs");

#[test]
fn no_pin_is_used_twice_and_no_address() {
    let pins: BTreeSet<u8> = WIRES.iter().map(|wire| wire.gpio).collect();
    assert_eq!(pins.len(), WIRES.len());
    assert_ne!(DISPLAY_ADDRESS, HUMIDITY_ADDRESS);
}

#[test]
fn pins_that_can_only_do_one_thing_do_it() {
    let of = |part, pin| {
        let mut found = WIRES.iter().filter(|wire| wire.part == part && wire.pin == pin);
        found.next().expect("a wire").gpio
    };
    // RP2040 data sheet, "GPIO Functions": I2C0 SDA on 0, 4, 8, ...; SCL on 1, 5, 9, ...; ADC inputs on 26 to 29, and on a
    // Pico VSYS / 3 on 29 alone.
    assert_eq!(of("SSD1306, SHT4x", "SDA") % 4, 0);
    assert_eq!(of("SSD1306, SHT4x", "SCL") % 4, 1);
    assert_eq!(of("VSYS / 3", "on the board"), 29);
}

#[test]
fn the_set_up_takes_these_pins_and_no_other() {
    let taken: BTreeSet<u8> = SETUP
        .split("pads.gpio")
        .skip(1)
        .map(|rest| {
            rest.split(|c: char| !c.is_ascii_digit())
                .next()
                .unwrap()
                .parse()
                .expect("a number")
        })
        .collect();
    assert_eq!(taken, WIRES.iter().map(|wire| wire.gpio).collect());
}
