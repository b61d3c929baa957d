//! The world as the core's converter.

use yarn_scale_core::board::Converter;
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::units::{Counts, Instant};

use super::scene::World;

/// A world seen by a device that was switched on at some instant of it.
#[derive(Clone, Debug)]
pub struct Port {
    /// The world behind it.
    pub world: World,
    switched_on: f64,
    last_word: f64,
}

impl Port {
    /// The device is switched on now.
    #[must_use]
    pub fn new(world: World) -> Self {
        let now = world.now();
        Self {
            world,
            switched_on: now,
            last_word: now,
        }
    }

    /// The device's clock at this world instant.
    #[must_use]
    pub fn now(&self) -> Instant {
        Instant(((self.world.now() - self.switched_on) * 1_000.0) as u64)
    }

    /// When the device was last switched on, world seconds, later by as much as its clock has stood still since.
    #[must_use]
    pub fn switched_on(&self) -> f64 {
        self.switched_on
    }

    /// The device's clock has stood still for so many seconds.
    pub fn clock_stood(&mut self, seconds: f64) {
        self.switched_on += seconds;
        self.last_word = self.world.now();
    }

    /// The device is switched on (again) now: its clock starts from nothing.
    pub fn switch_on(&mut self) {
        self.world.power(true);
        self.switched_on = self.world.now();
        self.last_word = self.switched_on;
    }
}

impl Converter for Port {
    /// The newest conversion that is ready by `now`; older ones that were not read are gone, as on the chip.
    fn read(&mut self, now: Instant) -> nb::Result<RawSample, ConverterFault> {
        let until = self.switched_on + now.0 as f64 / 1_000.0;
        let mut newest = None;
        self.world.advance(until, |conversion| {
            newest = conversion.raw.map(|raw| (conversion.at, raw)).or(newest)
        });
        if let Some((at, raw)) = newest {
            self.last_word = at;
            return Ok(RawSample(Counts(raw)));
        }
        if until - self.last_word > PATIENCE_S {
            self.last_word = until;
            return Err(nb::Error::Other(ConverterFault::Missing));
        }
        Err(nb::Error::WouldBlock)
    }

    fn power(&mut self, on: bool) {
        self.world.power(on);
        self.last_word = self.world.now();
    }
}

/// Time without a word after which the data line is taken for dead, as the driver has it, s.
const PATIENCE_S: f64 = 0.5;
