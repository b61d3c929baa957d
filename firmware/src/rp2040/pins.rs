//! What is wired where, what each pad of the chip does, and what the program takes for granted about it: the one place.
//!
//! `hardware-notes` shows the same table; a test compares the two, another what `setup.rs` takes, and on the image in the emulator
//! the registers are compared with it. After reset every pad pulls down and none may read; so each is set here, the unused ones
//! too (RP2040 data sheet, "GPIO": pad control register, reset value 0x56 for pads 0 to 29).

use yarn_scale_core::units::{Milligrams, Millivolts};

/// One pad that is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wire {
    /// GPIO number (not the pin number on the board's edge).
    pub gpio: u8,
    /// The part at the other end.
    pub part: &'static str,
    /// The part's own name for its pin.
    pub pin: &'static str,
    /// What the pad does.
    pub pad: Pad,
}

/// How a pad is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pad {
    /// Which of the chip's blocks it belongs to.
    pub function: Function,
    /// The weak resistor inside, 50 to 80 kΩ.
    pub pull: Pull,
    /// Whether the digital input is on. It is off where the level is analogue: half-way it would draw current.
    pub input: bool,
    /// Whether the pad may drive, with 4 mA and slow edges; those that never do cannot be made to by a slip.
    pub output: bool,
}

/// A pad's block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Function {
    /// Levels read and written by the program.
    Program,
    /// The first I2C controller.
    I2c,
    /// A counter that makes a tone.
    Pwm,
    /// None: an analogue input, or nothing at all.
    None,
}

/// A pad's weak resistor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pull {
    /// To 3.3 V.
    Up,
    /// To ground.
    Down,
    /// Neither.
    None,
}

impl Pad {
    /// A level that something else drives at all times.
    const SENSED: Self = Self {
        function: Function::Program,
        pull: Pull::None,
        input: true,
        output: false,
    };

    /// A contact to ground, or a line that floats while its part is not fitted.
    const PULLED_UP: Self = Self {
        pull: Pull::Up,
        ..Self::SENSED
    };

    /// A level that the program drives.
    const DRIVEN: Self = Self {
        output: true,
        ..Self::SENSED
    };

    /// A wire of the bus: driven low, else let go; the pull helps resistors on the modules, and stands in where there is no module.
    const BUS: Self = Self {
        function: Function::I2c,
        pull: Pull::Up,
        input: true,
        output: true,
    };

    /// A tone.
    const TONE: Self = Self {
        function: Function::Pwm,
        ..Self::DRIVEN
    };

    /// A voltage between the levels: no pull beside its divider, no digital input.
    const ANALOGUE: Self = Self {
        function: Function::None,
        pull: Pull::None,
        input: false,
        output: false,
    };

    /// Nothing is wired there: held low, cut off both ways, so that it neither floats nor drives whatever touches it.
    pub const UNUSED: Self = Self {
        pull: Pull::Down,
        ..Self::ANALOGUE
    };

    /// The pad's control register: slow edges, hysteresis, 4 mA (RP2040 data sheet, "`PADS_BANK0`: GPIO0 Register").
    #[must_use]
    pub const fn register(self) -> u32 {
        const HYSTERESIS: u32 = 1 << 1;
        const DRIVE_4_MA: u32 = 1 << 4;
        let pull = match self.pull {
            Pull::Down => 1 << 2,
            Pull::Up => 1 << 3,
            Pull::None => 0,
        };
        HYSTERESIS | pull | DRIVE_4_MA | (self.input as u32) << 6 | (!self.output as u32) << 7
    }
}

const fn wire(gpio: u8, part: &'static str, pin: &'static str, pad: Pad) -> Wire {
    Wire { gpio, part, pin, pad }
}

/// Every wire from the board to a part but power and ground.
///
/// GPIO 15 stays free: while the computer makes the chip's acquaintance, the way round erratum RP2040-E5 borrows it.
pub const WIRES: [Wire; 8] = [
    wire(2, "HX711", "PD_SCK", Pad::DRIVEN),
    wire(3, "HX711", "DOUT", Pad::PULLED_UP),
    wire(4, "display, SHT4x", "SDA", Pad::BUS),
    wire(5, "display, SHT4x", "SCL", Pad::BUS),
    wire(10, "key ZERO", "to ground", Pad::PULLED_UP),
    wire(11, "key MARK", "to ground", Pad::PULLED_UP),
    wire(12, "key NEXT", "to ground", Pad::PULLED_UP),
    wire(14, "buzzer", "+", Pad::TONE),
];

/// What the board itself has on pads that do not reach its edge (Pico data sheet, "Pinout", internal GPIO).
pub const ON_THE_BOARD: [Wire; 4] = [
    wire(23, "regulator", "power save", Pad::DRIVEN),
    wire(24, "VBUS", "sense", Pad::SENSED),
    wire(25, "lamp", "+", Pad::DRIVEN),
    wire(29, "VSYS / 3", "ADC 3", Pad::ANALOGUE),
];

/// The pad of that number.
#[must_use]
pub fn pad(gpio: u8) -> Pad {
    let mut wires = WIRES.iter().chain(&ON_THE_BOARD);
    wires
        .find(|wire| wire.gpio == gpio)
        .map_or(Pad::UNUSED, |wire| wire.pad)
}

/// Pads of the chip.
pub const PADS: u8 = 30;

/// I2C address of the display.
pub const DISPLAY_ADDRESS: u8 = 0x3C;

/// I2C address of the humidity sensor, where one is fitted (SHT40-AD1B and its kin).
pub const HUMIDITY_ADDRESS: u8 = 0x44;

/// I2C clock, Hz: the fast mode of both chips.
pub const I2C_HZ: u32 = 400_000;

/// What the load cell can carry, bowl included.
pub const CELL_CAPACITY: Milligrams = Milligrams::from_grams(500);

/// VSYS below which flash is not written: the board's regulator gives 3.3 V down to 1.8 V at its input (RT6150 data sheet),
/// and a margin for the sag of tired cells.
pub const WRITE_SUPPLY: Millivolts = Millivolts(2_000);
