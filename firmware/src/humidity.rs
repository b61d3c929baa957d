//! `SHT4x` humidity sensor over any I2C, found by itself, never waited for.
//!
//! One command starts a measurement, 8.3 ms later at most six bytes can be read: temperature and humidity, each with its own
//! check byte (`SHT4x` data sheet, "Communication and Operation"). A measurement a minute is far more than yarn can follow.

use embedded_hal::i2c::I2c;
use yarn_scale_core::board::Climate;
use yarn_scale_core::units::{Duration, Instant};

/// The sensor, if there is one.
#[derive(Debug)]
pub struct Humidity<Bus> {
    bus: Bus,
    address: u8,
    started: Option<Instant>,
    next: Instant,
}

impl<Bus: I2c> Humidity<Bus> {
    /// A sensor that may answer at `address`.
    pub const fn new(bus: Bus, address: u8) -> Self {
        Self {
            bus,
            address,
            started: None,
            next: Instant(0),
        }
    }

    /// A new measurement, when one has come; starts the next when it is time.
    pub fn poll(&mut self, now: Instant) -> Option<Climate> {
        if let Some(started) = self.started {
            if now.since(started) < MEASURING {
                return None;
            }
            self.started = None;
            let mut answer = [0; 6];
            self.bus.read(self.address, &mut answer).ok()?;
            return climate(answer);
        }
        if now >= self.next {
            self.next = now + INTERVAL;
            if self.bus.write(self.address, &[MEASURE_PRECISELY]).is_ok() {
                self.started = Some(now);
            }
        }
        None
    }
}

/// What an answer says, or `None` if a check byte is wrong.
fn climate([t1, t0, t_check, h1, h0, h_check]: [u8; 6]) -> Option<Climate> {
    if check([t1, t0]) != t_check || check([h1, h0]) != h_check {
        return None;
    }
    let share = |high, low| f32::from(u16::from_be_bytes([high, low])) / 65_535.0;
    // The conversion formulas of the data sheet; it says to crop humidity, which may come out a little beyond its range.
    Some(Climate {
        humidity_percent: (125.0 * share(h1, h0) - 6.0).clamp(0.0, 100.0),
        celsius: 175.0 * share(t1, t0) - 45.0,
    })
}

/// The sensor's check byte over a word: CRC-8 with polynomial 0x31, started with ones; 0xBEEF gives 0x92 (data sheet).
fn check(word: [u8; 2]) -> u8 {
    word.into_iter().fold(0xFF, |sum, byte| {
        (0..8).fold(
            sum ^ byte,
            |sum: u8, _| if sum & 0x80 == 0 { sum << 1 } else { (sum << 1) ^ 0x31 },
        )
    })
}

/// Time a measurement takes, rounded up.
const MEASURING: Duration = Duration(10);

/// Time between measurements.
const INTERVAL: Duration = Duration::from_secs(60);

/// "Measure T & RH with high precision".
const MEASURE_PRECISELY: u8 = 0xFD;
