//! The device's table of wires: consistent in itself, and the one that the set-up follows.

use std::collections::BTreeSet;

use yarn_scale_firmware::rp2040::pins::{DISPLAY_ADDRESS, HUMIDITY_ADDRESS, ON_THE_BOARD, Pad, WIRES, pad};

const SETUP: &str = include_str!("../../../firmware/src/rp2040/setup.rs");

#[test]
fn no_pin_is_used_twice_and_no_address() {
    let pins: BTreeSet<u8> = WIRES.iter().chain(&ON_THE_BOARD).map(|wire| wire.gpio).collect();
    assert_eq!(pins.len(), WIRES.len() + ON_THE_BOARD.len());
    assert_ne!(DISPLAY_ADDRESS, HUMIDITY_ADDRESS);
}

#[test]
fn pins_that_can_only_do_one_thing_do_it() {
    let of = |part, pin| {
        let mut found = WIRES
            .iter()
            .chain(&ON_THE_BOARD)
            .filter(|wire| wire.part == part && wire.pin == pin);
        found.next().expect("a wire").gpio
    };
    // RP2040 data sheet, "GPIO Functions": I2C0 SDA on 0, 4, 8, ...; SCL on 1, 5, 9, ...; ADC inputs on 26 to 29, and on a
    // Pico VSYS / 3 on 29 alone.
    assert_eq!(of("display, SHT4x", "SDA") % 4, 0);
    assert_eq!(of("display, SHT4x", "SCL") % 4, 1);
    assert_eq!(of("VSYS / 3", "ADC 3"), 29);
}

#[test]
fn pads_that_never_drive_are_cut_off_and_unused_ones_held_low() {
    // RP2040 data sheet, "PADS_BANK0: GPIO0 Register": output off 7, input on 6, drive 5:4 (1: 4 mA), pull up 3, pull down 2,
    // hysteresis 1, fast edges 0.
    assert_eq!(Pad::UNUSED.register(), 0b1001_0110);
    assert_eq!(
        pad(29).register(),
        0b1001_0010,
        "the cells' voltage: no pull, no digital input"
    );
    assert_eq!(pad(10).register(), 0b1101_1010, "a key");
    assert_eq!(pad(2).register(), 0b0101_0010, "the converter's clock");
    // Erratum RP2040-E5 borrows it.
    assert_eq!(pad(15), Pad::UNUSED);
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
    assert_eq!(taken, WIRES.iter().chain(&ON_THE_BOARD).map(|wire| wire.gpio).collect());
}
