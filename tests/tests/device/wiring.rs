//! The wiring drawing and the table beside it say what the device's program takes, and what its pads do.

use std::collections::BTreeSet;

use yarn_scale_firmware::rp2040::pins::{DISPLAY_ADDRESS, Function, HUMIDITY_ADDRESS, ON_THE_BOARD, Pull, WIRES};

const DRAWINGS: [&str; 3] = [
    include_str!("../../../hardware-notes/pictures/wiring-usb.svg"),
    include_str!("../../../hardware-notes/pictures/wiring-batteries.svg"),
    include_str!("../../../hardware-notes/pictures/wiring-lithium.svg"),
];
const NOTES: &str = include_str!("../../../hardware-notes/wiring.md");

type Wire = (u8, String, String);

fn program() -> BTreeSet<Wire> {
    let wires = WIRES.iter();
    wires
        .map(|wire| (wire.gpio, wire.part.to_owned(), wire.pin.to_owned()))
        .collect()
}

#[test]
fn the_drawings_follow_the_program() {
    let attribute = |group: &str, name: &str| {
        let value = group.split(&format!("{name}=\"")).nth(1).expect("an attribute");
        value.split('"').next().expect("its value").to_owned()
    };
    for drawing in DRAWINGS {
        let groups = drawing.split("<g ").filter(|group| group.starts_with("data-gpio"));
        let drawn: BTreeSet<Wire> = groups
            .map(|group| {
                let gpio = attribute(group, "data-gpio").parse().expect("a number");
                // What a person reads in the drawing, not only the attribute.
                assert!(
                    group.contains(&format!(">GP{gpio}<")),
                    "GP{gpio} is not written at its wire"
                );
                (gpio, attribute(group, "data-part"), attribute(group, "data-pin"))
            })
            .collect();
        assert_eq!(drawn, program());
        assert!(
            drawing.contains(&format!("0x{DISPLAY_ADDRESS:X}")) && drawing.contains(&format!("0x{HUMIDITY_ADDRESS:X}"))
        );
        // The board's pins in their own order, the left edge and the right one.
        for gpio in 0..=22_u8 {
            let pin = edge(gpio);
            let words = if pin <= 20 {
                format!("{pin}  GP{gpio}")
            } else {
                format!("GP{gpio}  {pin}")
            };
            assert!(drawing.contains(&words), "{words}");
        }
        assert!(drawing.contains("GP15: keep free"), "erratum RP2040-E5");
    }
}

/// Pin on the board's edge of a GPIO up to 22, by the Raspberry Pi Pico data sheet, pinout (from memory): GPIO 0 to 15 stand at pins 1 to
/// 20, two and two between grounds; 16 to 22 from pin 21 on, likewise.
fn edge(gpio: u8) -> u8 {
    match gpio {
        0..=15 => gpio + 1 + (gpio + 2) / 4,
        _ => gpio + 5 + (gpio - 14) / 4,
    }
}

#[test]
fn the_table_follows_the_program() {
    let on_or_off = |on| if on { "on" } else { "off" };
    let program: BTreeSet<Vec<String>> = WIRES
        .iter()
        .chain(&ON_THE_BOARD)
        .map(|wire| {
            let function = match wire.pad.function {
                Function::Program => "program",
                Function::I2c => "I2C",
                Function::Pwm => "PWM",
                Function::None => "none",
            };
            let pull = match wire.pad.pull {
                Pull::Up => "up",
                Pull::Down => "down",
                Pull::None => "none",
            };
            let levels = [on_or_off(wire.pad.input), on_or_off(wire.pad.output)];
            let cells = [&wire.gpio.to_string(), wire.part, wire.pin, function, pull];
            cells.into_iter().chain(levels).map(str::to_owned).collect()
        })
        .collect();
    let table: BTreeSet<Vec<String>> = NOTES
        .lines()
        .filter(|line| line.starts_with("| "))
        .map(|line| {
            line.trim_matches('|')
                .split('|')
                .map(|cell| cell.trim().to_owned())
                .collect()
        })
        .filter(|cells: &Vec<String>| cells[0].parse::<u8>().is_ok())
        .map(|mut cells| {
            cells.remove(1);
            cells
        })
        .collect();
    assert_eq!(table, program);
}

#[test]
fn pins_on_the_edge_are_where_the_board_has_them() {
    for line in NOTES.lines().filter(|line| line.starts_with("| ")) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        if let (Ok(gpio), Ok(pin)) = (cells[0].parse::<u8>(), cells[1].parse::<u8>()) {
            assert_eq!(pin, edge(gpio), "GPIO {gpio}");
        }
    }
}
