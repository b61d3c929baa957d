//! The I2C bus of display and humidity sensor.

use embedded_hal::i2c::{ErrorType, I2c, Operation};
use rp2040_hal::gpio::bank0::{Gpio4, Gpio5};
use rp2040_hal::gpio::{FunctionI2C, Pin, PullUp};
use rp2040_hal::pac::I2C0;
use rp2040_hal::{I2C, i2c};

type Wire<Id> = Pin<Id, FunctionI2C, PullUp>;

/// I2C0 on its two wires.
pub(crate) struct Bus {
    i2c: I2C<I2C0, (Wire<Gpio4>, Wire<Gpio5>)>,
}

impl Bus {
    /// Takes over the controller.
    pub(crate) const fn new(i2c: I2C<I2C0, (Wire<Gpio4>, Wire<Gpio5>)>) -> Self {
        Self { i2c }
    }
}

impl ErrorType for Bus {
    type Error = i2c::Error;
}

impl I2c for Bus {
    fn transaction(&mut self, address: u8, operations: &mut [Operation<'_>]) -> Result<(), Self::Error> {
        I2c::transaction(&mut self.i2c, address, operations)
    }
}
