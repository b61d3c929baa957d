//! The humidity sensor's driver against a model of the sensor on a bus.
//!
//! Sensirion `SHT4x` data sheet: command 0xFD starts a measurement of 8.3 ms at most, during which a read is not acknowledged;
//! the check byte of 0xBEEF is 0x92; T = -45 + 175 S / 65535 degrees Celsius, RH = -6 + 125 S / 65535 %.

use std::cell::RefCell;
use std::rc::Rc;

use embedded_hal::i2c::{ErrorKind, ErrorType, I2c, NoAcknowledgeSource, Operation};
use yarn_scale_core::board::Climate;
use yarn_scale_core::units::Instant;
use yarn_scale_firmware::humidity::Humidity;
use yarn_scale_firmware::rp2040::pins::HUMIDITY_ADDRESS;

struct Sensor {
    there: bool,
    now: u64,
    started: Option<u64>,
    answer: [u8; 6],
    commands: Vec<u64>,
}

#[derive(Clone)]
struct Wire(Rc<RefCell<Sensor>>);

impl ErrorType for Wire {
    type Error = ErrorKind;
}

impl I2c for Wire {
    fn transaction(&mut self, address: u8, operations: &mut [Operation<'_>]) -> Result<(), ErrorKind> {
        let mut sensor = self.0.borrow_mut();
        let nobody = Err(ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address));
        if !sensor.there || address != HUMIDITY_ADDRESS {
            return nobody;
        }
        match operations {
            [Operation::Write([0xFD])] => {
                let now = sensor.now;
                sensor.started = Some(now);
                sensor.commands.push(now);
                Ok(())
            }
            [Operation::Read(bytes)] => match sensor.started.take() {
                Some(started) if sensor.now >= started + 9 => {
                    bytes.copy_from_slice(&sensor.answer);
                    Ok(())
                }
                _ => nobody,
            },
            other => panic!("the sensor knows no such transfer: {other:?}"),
        }
    }
}

/// Polls every millisecond for `ms`; what came, with its time.
fn poll(sensor: &Rc<RefCell<Sensor>>, driver: &mut Humidity<Wire>, ms: u64) -> Vec<(u64, Climate)> {
    let start = sensor.borrow().now;
    let mut came = Vec::new();
    for now in start..start + ms {
        sensor.borrow_mut().now = now;
        came.extend(driver.poll(Instant(now)).map(|climate| (now, climate)));
    }
    sensor.borrow_mut().now = start + ms;
    came
}

fn bench(answer: [u8; 6]) -> (Rc<RefCell<Sensor>>, Humidity<Wire>) {
    let sensor = Sensor {
        there: true,
        now: 0,
        started: None,
        answer,
        commands: Vec::new(),
    };
    let sensor = Rc::new(RefCell::new(sensor));
    let driver = Humidity::new(Wire(sensor.clone()), HUMIDITY_ADDRESS);
    (sensor, driver)
}

/// Both words 0xBEEF, the data sheet's example for the check byte.
const BEEF: [u8; 6] = [0xBE, 0xEF, 0x92, 0xBE, 0xEF, 0x92];

#[test]
fn measures_once_a_minute_without_waiting() {
    let (sensor, mut driver) = bench(BEEF);
    let came = poll(&sensor, &mut driver, 125_000);
    assert_eq!(
        came.iter().map(|(at, _)| *at).collect::<Vec<_>>(),
        [10, 60_010, 120_010]
    );
    let (_, climate) = came[0];
    // 0xBEEF is 48,879: worked out by hand from the data sheet's formulas.
    assert!((climate.celsius - 85.523_346).abs() < 1e-3, "{climate:?}");
    assert!((climate.humidity_percent - 87.230_95).abs() < 1e-3, "{climate:?}");
}

#[test]
fn humidity_is_cropped_to_what_can_be() {
    // Check bytes of 0x0000 and 0xFFFF by the same polynomial, worked out with an independent table: 0x81 and 0xAC.
    for (word, expected) in [([0x00, 0x00, 0x81], 0.0), ([0xFF, 0xFF, 0xAC], 100.0)] {
        let (sensor, mut driver) = bench([0xBE, 0xEF, 0x92, word[0], word[1], word[2]]);
        let came = poll(&sensor, &mut driver, 20);
        assert_eq!(came[0].1.humidity_percent, expected);
    }
}

#[test]
fn a_garbled_answer_is_none_whichever_bit_is_wrong() {
    for bit in 0..48 {
        let mut answer = BEEF;
        answer[bit / 8] ^= 1 << (bit % 8);
        let (sensor, mut driver) = bench(answer);
        assert_eq!(poll(&sensor, &mut driver, 50), [], "bit {bit}");
    }
}

#[test]
fn a_sensor_that_is_not_there_is_looked_for_and_found_later() {
    let (sensor, mut driver) = bench(BEEF);
    sensor.borrow_mut().there = false;
    assert_eq!(poll(&sensor, &mut driver, 61_000), []);
    assert_eq!(sensor.borrow().commands, [0; 0]);
    sensor.borrow_mut().there = true;
    let came = poll(&sensor, &mut driver, 60_000);
    assert_eq!(came.len(), 1);
}
