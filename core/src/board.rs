//! The seams between the core and a shell: each a small trait with one device and one host implementation.

use embedded_storage::nor_flash::NorFlash;

use crate::converter::{ConverterFault, RawSample};
use crate::screen::Frame;
use crate::units::{Instant, Millivolts};

/// The load-cell converter.
pub trait Converter {
    /// Takes the next conversion if one is ready.
    ///
    /// # Errors
    /// `WouldBlock` while none is ready yet; a [`ConverterFault`] when none comes or its pins contradict the data sheet.
    fn read(&mut self, now: Instant) -> nb::Result<RawSample, ConverterFault>;

    /// Powers the converter up or down; after power-up the first conversions are still settling.
    fn power(&mut self, on: bool);
}

/// The levels of the three keys, `true` while pressed, bounces included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Levels {
    /// The ZERO key.
    pub zero: bool,
    /// The MARK key.
    pub mark: bool,
    /// The NEXT key.
    pub next: bool,
}

/// The display: a frame to draw into, sent to the panel in slices so that no sample is lost to a long transfer.
pub trait Screen {
    /// The frame to draw into.
    fn frame(&mut self) -> &mut Frame;

    /// Begins sending the frame as it is drawn now.
    fn begin(&mut self);

    /// Sends the next slice.
    ///
    /// # Errors
    /// `WouldBlock` while slices remain; [`ScreenFault`] if the panel does not answer (it is tried again at the next frame).
    fn flush(&mut self) -> nb::Result<(), ScreenFault>;

    /// Says in which column of its controller's memory the panel's picture begins, 0 to 4.
    fn begins_at(&mut self, column: u8);

    /// Sets the panel's brightness; 0 is off.
    fn brightness(&mut self, level: u8);
}

/// The display does not answer. Weighing and marking go on without it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ScreenFault;

/// The serial line to a computer, byte by byte.
pub trait Link {
    /// Reads what has arrived; 0 if nothing has, or no computer is there.
    fn read(&mut self, into: &mut [u8]) -> usize;

    /// Writes as much of `bytes` as the line takes now and says how much; never waits.
    fn write(&mut self, bytes: &[u8]) -> usize;
}

/// Most bytes of one packet on USB at full speed.
pub const PACKET: usize = 64;

/// The two endpoints of the drive that a computer sees.
pub trait Pipe {
    /// The packet that the computer has sent, if there is one, and its length.
    fn read(&mut self, packet: &mut [u8; PACKET]) -> Option<usize>;

    /// Sends a packet; `false` while the last one has not been taken yet.
    fn write(&mut self, packet: &[u8]) -> bool;

    /// Whether there are 5 V on the line.
    fn is_powered(&self) -> bool;

    /// Whether a computer has taken the device up.
    fn is_up(&self) -> bool;

    /// Whether the bus, or the drive alone, was reset since this was last asked.
    fn take_reset(&mut self) -> bool;
}

/// What a humidity sensor beside the cell says, if one is fitted.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Climate {
    /// Relative humidity, %, 0 to 100.
    pub humidity_percent: f32,
    /// Temperature, degrees Celsius.
    pub celsius: f32,
}

/// How fast the processor runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Speed {
    /// From the crystal, at a tenth of the current.
    Slow,
    /// As fast as it can, as at its start.
    #[default]
    Fast,
}

/// Everything a shell gives the core. One implementation on the device, one in the simulator.
pub trait Board {
    /// The converter.
    type Converter: Converter;
    /// The display.
    type Screen: Screen;
    /// The serial line.
    type Link: Link;
    /// The drive's endpoints.
    type Pipe: Pipe;
    /// The flash area of the journal, from its first byte to its last.
    type Flash: NorFlash;

    /// Time on the shell's monotonic clock.
    fn now(&mut self) -> Instant;
    /// The converter.
    fn converter(&mut self) -> &mut Self::Converter;
    /// Key levels, as they are now.
    fn levels(&mut self) -> Levels;
    /// Supply voltage, or `None` where it is not measured.
    fn supply(&mut self) -> Option<Millivolts>;
    /// The air beside the cell, where a sensor is fitted and has a new value.
    fn climate(&mut self) -> Option<Climate>;
    /// The display.
    fn screen(&mut self) -> &mut Self::Screen;
    /// The serial line.
    fn link(&mut self) -> &mut Self::Link;
    /// The journal's flash.
    fn flash(&mut self) -> &mut Self::Flash;
    /// Whether a plug on the USB feeds the device.
    fn plugged(&mut self) -> bool;
    /// Whether the clock behind [`Self::now`] has stood still since this was asked last, as [`Wait::stopped`](crate::app::Wait) allows.
    fn has_lost_time(&mut self) -> bool;
    /// Runs the processor at that speed from now on.
    fn run_at(&mut self, speed: Speed);
    /// The drive's endpoints, and the flash that its files are made from.
    fn drive(&mut self) -> (&mut Self::Pipe, &mut Self::Flash);
    /// The device's own number, in figures and capitals.
    fn number(&self) -> [u8; 16];
    /// Sounds the buzzer for a short, fixed time, where one is fitted.
    fn beep(&mut self, tone: Tone);
}

/// What a sound means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Tone {
    /// A mark is in the journal.
    Noted,
    /// Something was refused or needs an answer.
    Refused,
}
