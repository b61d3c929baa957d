//! The I2C bus of display and humidity sensor: the chip's first controller, never waited for without an end.
//!
//! A chip that is not there does not acknowledge, which ends a transfer at once. Worse is one that is half there: without power,
//! badly soldered, or cut off in the middle of an answer by a reset, it can hold a line low for ever. Then a transfer runs out of
//! time, and the bus is cleared: up to nine clock pulses, until whoever holds the data line has let go (UM10204, "Bus clear").

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::InputPin;
use embedded_hal::i2c::{Error, ErrorKind, ErrorType, I2c, NoAcknowledgeSource, Operation};
use rp2040_hal::Timer;
use rp2040_hal::fugit::MicrosDurationU64;
use rp2040_hal::gpio::bank0::{Gpio4, Gpio5};
use rp2040_hal::gpio::{FunctionI2C, OutputEnableOverride, OutputOverride, Pin, PullUp};
use rp2040_hal::pac::{I2C0, RESETS};
use yarn_scale_core::board::Speed;
use yarn_scale_firmware::rp2040::pins;

use super::clocks;

/// The controller on its two wires.
pub(crate) struct Bus {
    i2c: I2C0,
    resets: RESETS,
    data: Pin<Gpio4, FunctionI2C, PullUp>,
    clock: Pin<Gpio5, FunctionI2C, PullUp>,
    speed: Speed,
    timer: Timer,
}

/// Why a transfer failed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BusFault {
    /// No chip answers at that address, or it has stopped answering.
    NoAnswer,
    /// A line is held low.
    Held,
}

impl Error for BusFault {
    fn kind(&self) -> ErrorKind {
        match self {
            Self::NoAnswer => ErrorKind::NoAcknowledge(NoAcknowledgeSource::Unknown),
            Self::Held => ErrorKind::Bus,
        }
    }
}

impl Bus {
    /// Takes over controller and wires, clears the bus and sets the controller up.
    pub(crate) fn new(
        i2c: I2C0,
        resets: RESETS,
        data: Pin<Gpio4, FunctionI2C, PullUp>,
        clock: Pin<Gpio5, FunctionI2C, PullUp>,
        timer: Timer,
    ) -> Self {
        let mut bus = Self {
            i2c,
            resets,
            data,
            clock,
            speed: Speed::Fast,
            timer,
        };
        bus.start();
        bus
    }

    /// Clears the bus and sets the controller up from reset, whatever it was in the middle of.
    fn start(&mut self) {
        self.resets.reset().modify(|_, w| w.i2c0().set_bit());
        for _ in 0..CLEARING_PULSES {
            if self.data.as_input().is_high().unwrap_or(true) {
                break;
            }
            self.clock.set_output_override(OutputOverride::AlwaysLow);
            self.clock.set_output_enable_override(OutputEnableOverride::Enable);
            self.timer.delay_us(CLEARING_HALF_PULSE_US);
            self.clock.set_output_enable_override(OutputEnableOverride::Normal);
            self.clock.set_output_override(OutputOverride::DontInvert);
            self.timer.delay_us(CLEARING_HALF_PULSE_US);
        }
        self.resets.reset().modify(|_, w| w.i2c0().clear_bit());
        while self.resets.reset_done().read().i2c0().bit_is_clear() {}

        self.i2c.ic_con().write(|w| {
            w.master_mode().enabled().speed().fast();
            w.ic_slave_disable().slave_disabled().ic_restart_en().enabled()
        });
        self.count();
    }

    /// The processor runs at another speed from now on, and the controller counts its cycles.
    pub(crate) fn run_at(&mut self, speed: Speed) {
        self.speed = speed;
        self.i2c.ic_enable().write(|w| w.enable().disabled());
        while self.i2c.ic_enable_status().read().ic_en().is_enabled() {}
        self.count();
    }

    /// Sets the controller's counts of the processor's clock; it must be off.
    fn count(&self) {
        let counts = match self.speed {
            Speed::Slow => const { Counts::at(clocks::hertz(Speed::Slow).to_Hz()) },
            Speed::Fast => const { Counts::at(clocks::hertz(Speed::Fast).to_Hz()) },
        };
        // SAFETY: counts within the registers' widths, the controller being off.
        unsafe {
            self.i2c.ic_fs_scl_lcnt().write(|w| w.bits(counts.low));
            self.i2c.ic_fs_scl_hcnt().write(|w| w.bits(counts.high));
            self.i2c.ic_fs_spklen().write(|w| w.bits(counts.spikes));
            self.i2c.ic_sda_hold().write(|w| w.bits(counts.hold));
        }
    }

    /// Runs the operations of one transfer, a stop at its end.
    fn transfer(&self, address: u8, operations: &mut [Operation<'_>], deadline: Deadline) -> Result<(), BusFault> {
        self.i2c.ic_enable().write(|w| w.enable().disabled());
        // SAFETY: a 7-bit address and no special start.
        self.i2c.ic_tar().write(|w| unsafe { w.bits(u32::from(address)) });
        self.i2c.ic_enable().write(|w| w.enable().enabled());
        self.i2c.ic_clr_intr().read();

        let mut left: usize = operations.iter().map(length).sum();
        for operation in operations {
            for index in 0..length(operation) {
                left -= 1;
                self.until(deadline, || self.i2c.ic_status().read().tfnf().is_not_full())?;
                match operation {
                    Operation::Write(bytes) => {
                        self.i2c.ic_data_cmd().write(|w| {
                            w.stop().bit(left == 0);
                            // SAFETY: the field is a byte.
                            unsafe { w.dat().bits(bytes[index]) }
                        });
                    }
                    Operation::Read(bytes) => {
                        self.i2c.ic_data_cmd().write(|w| w.stop().bit(left == 0).cmd().read());
                        self.until(deadline, || self.i2c.ic_status().read().rfne().is_not_empty())?;
                        bytes[index] = self.i2c.ic_data_cmd().read().dat().bits();
                    }
                }
            }
        }
        self.until(deadline, || self.i2c.ic_raw_intr_stat().read().stop_det().is_active())
    }

    /// Waits for the controller.
    fn until(&self, deadline: Deadline, ready: impl Fn() -> bool) -> Result<(), BusFault> {
        loop {
            if self.i2c.ic_raw_intr_stat().read().tx_abrt().is_active() {
                return Err(BusFault::NoAnswer);
            }
            if ready() {
                return Ok(());
            }
            if self.timer.get_counter() > deadline {
                return Err(BusFault::Held);
            }
        }
    }
}

impl ErrorType for Bus {
    type Error = BusFault;
}

impl I2c for Bus {
    fn transaction(&mut self, address: u8, operations: &mut [Operation<'_>]) -> Result<(), BusFault> {
        if operations.iter().all(|operation| length(operation) == 0) {
            return Ok(());
        }
        let deadline = self.timer.get_counter() + PATIENCE;
        let mut outcome = self.transfer(address, operations, deadline);
        if outcome == Err(BusFault::NoAnswer) {
            // The controller itself ends the transfer with a stop; the next one must not find it at that.
            let stopped = || self.i2c.ic_raw_intr_stat().read().stop_det().is_active();
            while !stopped() && outcome != Err(BusFault::Held) {
                if self.timer.get_counter() > deadline {
                    outcome = Err(BusFault::Held);
                }
            }
            self.i2c.ic_clr_tx_abrt().read();
        }
        if outcome == Err(BusFault::Held) {
            self.start();
        }
        outcome
    }
}

/// What the controller counts of the processor's clock.
struct Counts {
    low: u32,
    high: u32,
    spikes: u32,
    hold: u32,
}

impl Counts {
    /// At so many hertz. Of a period, 60 % low and 40 % high satisfy the least of both (UM10204, table 10: 1.3 us and 0.6 us); spikes up to
    /// 50 ns are filtered, data held for 300 ns. The controller adds the filter and 7 cycles to the high count, which is 6 at least, and 1
    /// to the low one (RP2040 data sheet, "`IC_CLK` Frequency Configuration").
    const fn at(hertz: u32) -> Self {
        let period = hertz.div_ceil(pins::I2C_HZ);
        let low = period * 3 / 5;
        let megahertz = hertz / 1_000_000;
        let spikes = megahertz * 50 / 1_000 + 1;
        let high = (period - low).saturating_sub(spikes + 7);
        Self {
            low: low - 1,
            high: if high < 6 { 6 } else { high },
            spikes,
            hold: megahertz * 300 / 1_000 + 1,
        }
    }
}

type Deadline = rp2040_hal::timer::Instant;

fn length(operation: &Operation<'_>) -> usize {
    match operation {
        Operation::Read(bytes) => bytes.len(),
        Operation::Write(bytes) => bytes.len(),
    }
}

/// Time for one transfer; the longest, a page of the display, takes 3 ms.
const PATIENCE: MicrosDurationU64 = MicrosDurationU64::millis(10);

/// Clock pulses after which any chip has let go of the data line: a byte and its acknowledgement.
const CLEARING_PULSES: u32 = 9;

/// Half a clock of 100 kHz, which every chip can follow.
const CLEARING_HALF_PULSE_US: u32 = 5;
