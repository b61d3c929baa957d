//! The converter's driver against a model of the chip at the level of its two lines.
//!
//! The model follows the HX711 data sheet: data line low when a conversion is ready; a bit at each rising clock edge, most
//! significant first; the data line high from the 25th on; powered down by a clock line high for more than 60 us, reset when it
//! goes low again; 400 ms at 10 samples/s (four conversions) from there to the first one. Between any two instructions that are
//! not protected, an interrupt of 200 us strikes.

use std::cell::RefCell;
use std::convert::Infallible;
use std::rc::Rc;

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::{ErrorType, InputPin, OutputPin};
use proptest::prelude::*;
use yarn_scale_core::board::Converter;
use yarn_scale_core::converter::{ConverterFault, RawSample};
use yarn_scale_core::units::{Counts, Instant};
use yarn_scale_firmware::hx711::{Hx711, Uninterrupted};

const INTERRUPT_NS: u64 = 200_000;
const POWER_DOWN_NS: u64 = 60_000;
const CONVERSION_NS: u64 = 100_000_000;

/// What is wrong with the wires.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Wires {
    Sound,
    DataHigh,
    DataLow,
    /// The chip is gone and its line floats: low while nothing happens, pulled up by each clock edge beside it.
    Ones,
}

#[derive(Debug)]
struct Chip {
    now: u64,
    wires: Wires,
    clock: bool,
    rose: u64,
    longest_high: u64,
    down: bool,
    next_ready: u64,
    ready: bool,
    pulses: u32,
    bits_sent: u32,
    value: i32,
    protected: bool,
    pulse_log: Vec<u32>,
}

impl Chip {
    fn new(value: i32) -> Self {
        Self {
            now: 0,
            wires: Wires::Sound,
            clock: false,
            rose: 0,
            longest_high: 0,
            down: false,
            next_ready: 4 * CONVERSION_NS,
            ready: false,
            pulses: 0,
            bits_sent: 0,
            value,
            protected: false,
            pulse_log: Vec::new(),
        }
    }

    /// Lets time pass, with an interrupt on top where one can strike.
    fn pass(&mut self, ns: u64) {
        self.now += ns + if self.protected { 0 } else { INTERRUPT_NS };
        if self.clock && self.now - self.rose > POWER_DOWN_NS {
            self.down = true;
            self.ready = false;
        }
        if !self.down && self.now >= self.next_ready {
            self.next_ready += CONVERSION_NS * ((self.now - self.next_ready) / CONVERSION_NS + 1);
            self.ready = true;
            self.pulses = 0;
        }
    }

    fn set_clock(&mut self, high: bool) {
        if high == self.clock {
            return;
        }
        self.clock = high;
        if high {
            self.rose = self.now;
            self.pulses += 1;
            self.bits_sent += 1;
        } else {
            self.longest_high = self.longest_high.max(self.now - self.rose);
            if self.down {
                self.down = false;
                self.next_ready = self.now + 4 * CONVERSION_NS;
            } else if self.pulses == 25 {
                self.pulse_log.push(self.pulses);
                self.ready = false;
            }
        }
    }

    fn data(&self) -> bool {
        match self.wires {
            Wires::DataHigh => return true,
            Wires::DataLow => return false,
            Wires::Ones => return self.now - self.rose < 500_000,
            Wires::Sound => {}
        }
        match self.pulses {
            0 => !self.ready,
            pulses @ 1..=24 => self.value >> (24 - pulses) & 1 == 1,
            _ => true,
        }
    }
}

#[derive(Clone)]
struct Line(Rc<RefCell<Chip>>);

impl ErrorType for Line {
    type Error = Infallible;
}

impl OutputPin for Line {
    fn set_low(&mut self) -> Result<(), Infallible> {
        let mut chip = self.0.borrow_mut();
        chip.pass(10);
        chip.set_clock(false);
        Ok(())
    }

    fn set_high(&mut self) -> Result<(), Infallible> {
        let mut chip = self.0.borrow_mut();
        chip.set_clock(true);
        chip.pass(10);
        Ok(())
    }
}

impl InputPin for Line {
    fn is_high(&mut self) -> Result<bool, Infallible> {
        Ok(self.0.borrow().data())
    }

    fn is_low(&mut self) -> Result<bool, Infallible> {
        Ok(!self.0.borrow().data())
    }
}

impl DelayNs for Line {
    fn delay_ns(&mut self, ns: u32) {
        self.0.borrow_mut().pass(u64::from(ns));
    }
}

impl Uninterrupted for Line {
    fn hold_off<R>(&mut self, work: impl FnOnce() -> R) -> R {
        self.0.borrow_mut().protected = true;
        let result = work();
        let mut chip = self.0.borrow_mut();
        chip.protected = false;
        drop(chip);
        self.0.borrow_mut().pass(0);
        result
    }
}

struct Bench {
    chip: Rc<RefCell<Chip>>,
    driver: Hx711<Line, Line, Line, Line>,
}

impl Bench {
    fn new(value: i32) -> Self {
        let chip = Rc::new(RefCell::new(Chip::new(value)));
        let line = || Line(chip.clone());
        let driver = Hx711::new(line(), line(), line(), line());
        Self { chip, driver }
    }

    /// Asks every millisecond for `ms`; everything that was not "not yet", with its time.
    fn ask(&mut self, ms: u64) -> Vec<(u64, Result<i32, ConverterFault>)> {
        let end = self.chip.borrow().now / 1_000_000 + ms;
        let mut answers = Vec::new();
        loop {
            let now = self.chip.borrow().now / 1_000_000;
            if now >= end {
                return answers;
            }
            match self.driver.read(Instant(now)) {
                Ok(RawSample(Counts(counts))) => answers.push((now, Ok(counts))),
                Err(nb::Error::Other(fault)) => answers.push((now, Err(fault))),
                Err(nb::Error::WouldBlock) => {}
            }
            self.chip.borrow_mut().pass(1_000_000 - INTERRUPT_NS);
        }
    }

    fn faults(&mut self, ms: u64) -> Vec<ConverterFault> {
        self.ask(ms)
            .into_iter()
            .filter_map(|(_, answer)| answer.err())
            .collect()
    }

    fn values(&mut self, ms: u64) -> Vec<i32> {
        self.ask(ms).into_iter().filter_map(|(_, answer)| answer.ok()).collect()
    }
}

#[test]
fn reads_a_conversion_each_time_one_is_ready_with_25_pulses() {
    let mut bench = Bench::new(0x123456);
    let answers = bench.ask(1_050);
    assert_eq!(answers.len(), 7, "{answers:?}");
    assert!(answers.iter().all(|(_, answer)| *answer == Ok(0x123456)));
    assert!(answers[0].0 >= 400 && answers[0].0 <= 403, "{answers:?}");
    let chip = bench.chip.borrow();
    assert_eq!(chip.pulse_log, [25; 7]);
    assert_eq!(chip.bits_sent, 7 * 25);
}

#[test]
fn the_clock_is_never_high_for_long_though_interrupts_strike() {
    let mut bench = Bench::new(-5);
    assert!(bench.values(2_000).len() > 15);
    let longest = bench.chip.borrow().longest_high;
    assert!((200..50_000).contains(&longest), "{longest} ns");
}

#[test]
fn a_line_that_stays_high_is_a_missing_converter_every_five_conversions() {
    let mut bench = Bench::new(0);
    bench.chip.borrow_mut().wires = Wires::DataHigh;
    let answers = bench.ask(1_700);
    assert_eq!(answers.len(), 3, "{answers:?}");
    for ((at, answer), due) in answers.into_iter().zip([500, 1_000, 1_500]) {
        assert_eq!(answer, Err(ConverterFault::Missing));
        assert!(at.abs_diff(due) < 5, "{at} for {due}");
    }
}

#[test]
fn a_line_that_stays_low_is_stuck_low_and_never_a_sample() {
    let mut bench = Bench::new(0);
    bench.chip.borrow_mut().wires = Wires::DataLow;
    assert_eq!(bench.faults(1_200), [ConverterFault::StuckLow; 2]);
    assert!(bench.values(600).is_empty());
}

#[test]
fn ones_from_an_undriven_line_are_a_missing_converter_never_a_sample() {
    let mut bench = Bench::new(0);
    bench.chip.borrow_mut().wires = Wires::Ones;
    let answers = bench.ask(1_300);
    let faults: Vec<_> = answers.iter().map(|(_, answer)| *answer).collect();
    assert_eq!(faults, [Err(ConverterFault::Missing); 2]);
}

#[test]
fn comes_back_when_the_wire_does() {
    let mut bench = Bench::new(77);
    assert_eq!(bench.values(650), [77; 3]);
    bench.chip.borrow_mut().wires = Wires::DataHigh;
    assert_eq!(bench.faults(1_100), [ConverterFault::Missing; 2]);
    bench.chip.borrow_mut().wires = Wires::Sound;
    assert!(bench.values(300).ends_with(&[77, 77]));
}

#[test]
fn powered_down_it_is_silent_and_powered_up_it_settles_anew() {
    let mut bench = Bench::new(9);
    assert_eq!(bench.values(450), [9]);
    bench.driver.power(false);
    assert!(bench.chip.borrow().down);
    assert!(bench.ask(2_000).is_empty(), "no sample and no fault while off");
    bench.driver.power(true);
    let since = bench.chip.borrow().now / 1_000_000;
    let answers = bench.ask(600);
    assert!(answers.iter().all(|(_, answer)| *answer == Ok(9)));
    assert!(
        (399..=403).contains(&(answers[0].0 - since)),
        "{answers:?} from {since}"
    );
}

proptest! {
    /// Every word that the chip can send, but the one that an undriven line reads as.
    #[test]
    fn every_word_is_read_with_its_sign(value in -0x80_0000..=0x7F_FFFF_i32) {
        let mut bench = Bench::new(value);
        let expected = if value == -1 { vec![] } else { vec![value] };
        prop_assert_eq!(bench.values(450), expected);
    }
}

#[test]
fn the_ends_of_the_range_keep_their_sign() {
    for value in [-0x80_0000, -0x7F_FFFF, -2, 0, 1, 0x7F_FFFF] {
        assert_eq!(Bench::new(value).values(450), [value]);
    }
}
