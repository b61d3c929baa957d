//! The wiring drawing and the table beside it say what the device's program takes.

use std::collections::BTreeSet;

use yarn_scale_firmware::rp2040::pins::{DISPLAY_ADDRESS, HUMIDITY_ADDRESS, WIRES};

const DRAWING: &str = include_str!("../../../hardware-notes/wiring.svg");
const NOTES: &str = include_str!("../../../hardware-notes/wiring.md");

type Wire = (u8, String, String);

fn program() -> BTreeSet<Wire> {
    let wires = WIRES.iter();
    wires
        .map(|wire| (wire.gpio, wire.part.to_owned(), wire.pin.to_owned()))
        .collect()
}

#[test]
fn the_drawing_follows_the_program() {
    let attribute = |group: &str, name: &str| {
        let value = group.split(&format!("{name}=\"")).nth(1).expect("an attribute");
        value.split('"').next().expect("its value").to_owned()
    };
    let groups = DRAWING.split("<g ").filter(|group| group.starts_with("data-gpio"));
    let drawn: BTreeSet<Wire> = groups
        .map(|group| {
            let gpio = attribute(group, "data-gpio").parse().expect("a number");
            // What a person reads in the drawing, not only the attribute.
            assert!(
                group.contains(&format!("GP{gpio}")),
                "GP{gpio} is not written at its wire"
            );
            (gpio, attribute(group, "data-part"), attribute(group, "data-pin"))
        })
        .collect();
    assert_eq!(drawn, program());
    assert!(
        DRAWING.contains(&format!("0x{DISPLAY_ADDRESS:X}")) && DRAWING.contains(&format!("0x{HUMIDITY_ADDRESS:X}"))
    );
}

#[test]
fn the_table_follows_the_program() {
    let rows = NOTES.lines().filter(|line| line.starts_with("| ")).map(|line| {
        line.trim_matches('|')
            .split('|')
            .map(|cell| cell.trim().to_owned())
            .collect::<Vec<_>>()
    });
    let table: BTreeSet<Wire> = rows
        .filter_map(|cells| {
            Some((
                cells.first()?.parse().ok()?,
                cells.get(2)?.clone(),
                cells.get(3)?.clone(),
            ))
        })
        .collect();
    assert_eq!(table, program());
}

#[test]
fn pins_on_the_edge_are_where_the_board_has_them() {
    // Raspberry Pi Pico data sheet, pinout (from memory): GPIO 0 to 15 stand at pins 1 to 20, two and two between grounds.
    let edge = |gpio: u8| gpio + 1 + (gpio + 2) / 4;
    for line in NOTES.lines().filter(|line| line.starts_with("| ")) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        if let (Ok(gpio), Ok(pin)) = (cells[0].parse::<u8>(), cells[1].parse::<u8>()) {
            assert_eq!(pin, edge(gpio), "GPIO {gpio}");
        }
    }
}
