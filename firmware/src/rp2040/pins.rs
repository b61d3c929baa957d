//! What is wired where, and what the program takes for granted about it: the one place.
//!
//! `hardware-notes` draws the same table; a test compares the two, and these numbers with what `setup.rs` takes.

use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::units::{Milligrams, Millivolts};

/// One wire from the board to a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wire {
    /// GPIO number (not the pin number on the board's edge).
    pub gpio: u8,
    /// The part at the other end.
    pub part: &'static str,
    /// The part's own name for its pin.
    pub pin: &'static str,
}

/// Every wire but power and ground.
pub const WIRES: [Wire; 9] = [
    Wire {
        gpio: 2,
        part: "HX711",
        pin: "PD_SCK",
    },
    Wire {
        gpio: 3,
        part: "HX711",
        pin: "DOUT",
    },
    Wire {
        gpio: 4,
        part: "SSD1306, SHT4x",
        pin: "SDA",
    },
    Wire {
        gpio: 5,
        part: "SSD1306, SHT4x",
        pin: "SCL",
    },
    Wire {
        gpio: 10,
        part: "key ZERO",
        pin: "to ground",
    },
    Wire {
        gpio: 11,
        part: "key MARK",
        pin: "to ground",
    },
    Wire {
        gpio: 12,
        part: "key NEXT",
        pin: "to ground",
    },
    Wire {
        gpio: 15,
        part: "buzzer",
        pin: "+",
    },
    Wire {
        gpio: 29,
        part: "VSYS / 3",
        pin: "on the board",
    },
];

/// I2C address of the display.
pub const DISPLAY_ADDRESS: u8 = 0x3C;

/// I2C address of the humidity sensor, where one is fitted (SHT40-AD1B and its kin).
pub const HUMIDITY_ADDRESS: u8 = 0x44;

/// I2C clock, Hz: the fast mode of both chips.
pub const I2C_HZ: u32 = 400_000;

/// What the RATE strap of the converter says, for which the image is built (`firmware/build`, or with `--eighty`).
pub const SAMPLE_RATE: SampleRate = if cfg!(feature = "eighty") {
    SampleRate::Eighty
} else {
    SampleRate::Ten
};

const _: () = assert!(yarn_scale_core::signal::steadiness::can_judge(SAMPLE_RATE));

/// What the load cell can carry, bowl included.
pub const CELL_CAPACITY: Milligrams = Milligrams::from_grams(500);

/// VSYS below which flash is not written: the board's regulator gives 3.3 V down to 1.8 V at its input (RT6150 data sheet),
/// and a margin for the sag of tired cells.
pub const WRITE_SUPPLY: Millivolts = Millivolts(2_000);
