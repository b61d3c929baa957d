//! The display's driver against a model of the panel's controller (SSD1306 data sheet: control bytes, command lengths, the
//! horizontal addressing mode) on a bus from which it can be unplugged.

use std::cell::RefCell;
use std::rc::Rc;

use embedded_hal::i2c::{ErrorKind, ErrorType, I2c, NoAcknowledgeSource, Operation};
use proptest::prelude::*;
use yarn_scale_core::board::{Screen, ScreenFault};
use yarn_scale_core::screen::Surface;
use yarn_scale_firmware::panel::Panel;
use yarn_scale_firmware::rp2040::pins::DISPLAY_ADDRESS;

#[derive(Debug)]
struct Controller {
    plugged: bool,
    on: bool,
    pump: bool,
    contrast: u8,
    horizontal: bool,
    memory: [u8; 1024],
    columns: (usize, usize),
    pages: (usize, usize),
    at: (usize, usize),
    /// Bytes of each transfer, address included.
    transfers: Vec<usize>,
}

impl Controller {
    /// As it is after its supply has come: dark, with anything in memory.
    fn fresh() -> Self {
        Self {
            plugged: true,
            on: false,
            pump: false,
            contrast: 0x7F,
            horizontal: false,
            memory: std::array::from_fn(|n| (n * 37 % 251) as u8),
            columns: (0, 127),
            pages: (0, 7),
            at: (0, 0),
            transfers: Vec::new(),
        }
    }

    fn commands(&mut self, bytes: &[u8]) {
        let mut rest = bytes;
        while let [command, after @ ..] = rest {
            let length = match command {
                0x20 | 0x81 | 0x8D | 0xA8 | 0xD3 | 0xD5 | 0xD9 | 0xDA | 0xDB => 1,
                0x21 | 0x22 => 2,
                0x40..=0x7F | 0xA0 | 0xA1 | 0xA4 | 0xA6 | 0xAE | 0xAF | 0xC0 | 0xC8 | 0x2E => 0,
                other => panic!("not a command of this panel: {other:#04x}"),
            };
            let (arguments, next) = after.split_at(length);
            match (command, arguments) {
                (0x20, &[mode]) => self.horizontal = mode == 0,
                (0x81, &[level]) => self.contrast = level,
                (0x8D, &[pump]) => self.pump = pump == 0x14,
                (0x21, &[first, last]) => {
                    self.columns = (first.into(), last.into());
                    self.at.0 = first.into();
                }
                (0x22, &[first, last]) => {
                    self.pages = (first.into(), last.into());
                    self.at.1 = first.into();
                }
                (0xAE, _) => self.on = false,
                (0xAF, _) => self.on = true,
                _ => {}
            }
            rest = next;
        }
    }

    fn data(&mut self, bytes: &[u8]) {
        assert!(self.horizontal, "data before the addressing mode was set");
        for &byte in bytes {
            self.memory[self.at.1 * 128 + self.at.0] = byte;
            self.at.0 += 1;
            if self.at.0 > self.columns.1 {
                self.at.0 = self.columns.0;
                self.at.1 = if self.at.1 == self.pages.1 {
                    self.pages.0
                } else {
                    self.at.1 + 1
                };
            }
        }
    }

    fn lit(&self, x: usize, y: usize) -> bool {
        self.memory[y / 8 * 128 + x] >> (y % 8) & 1 == 1
    }

    fn sees(&self) -> bool {
        self.on && self.pump && self.contrast > 0
    }
}

#[derive(Clone, Debug)]
struct Wire(Rc<RefCell<Controller>>);

impl ErrorType for Wire {
    type Error = ErrorKind;
}

impl I2c for Wire {
    fn transaction(&mut self, address: u8, operations: &mut [Operation<'_>]) -> Result<(), ErrorKind> {
        let mut controller = self.0.borrow_mut();
        let [Operation::Write(bytes)] = operations else {
            panic!("the panel is only written to");
        };
        controller.transfers.push(1 + bytes.len());
        if address != DISPLAY_ADDRESS || !controller.plugged {
            return Err(ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address));
        }
        match bytes.split_first() {
            Some((0x00, commands)) => controller.commands(commands),
            Some((0x40, data)) => controller.data(data),
            other => panic!("no such control byte: {other:?}"),
        }
        Ok(())
    }
}

fn bench() -> (Rc<RefCell<Controller>>, Panel<Wire>) {
    let controller = Rc::new(RefCell::new(Controller::fresh()));
    let panel = Panel::new(Wire(controller.clone()), DISPLAY_ADDRESS);
    (controller, panel)
}

fn draw(panel: &mut Panel<Wire>, points: &[(i32, i32)], on: bool) {
    for &(x, y) in points {
        panel.frame().put(x, y, 1, on);
    }
}

/// Sends the frame; the number of calls it took.
fn send(panel: &mut Panel<Wire>) -> Result<usize, ScreenFault> {
    panel.begin();
    for calls in 1..100 {
        match panel.flush() {
            Ok(()) => return Ok(calls),
            Err(nb::Error::WouldBlock) => {}
            Err(nb::Error::Other(fault)) => return Err(fault),
        }
    }
    panic!("a frame has only 8 pages");
}

#[test]
fn the_first_frame_is_whole_and_lit() {
    let (controller, mut panel) = bench();
    draw(&mut panel, &[(0, 0), (127, 63), (64, 31)], true);
    send(&mut panel).expect("plugged");
    let controller = controller.borrow();
    assert!(controller.sees());
    let lit: Vec<_> = (0..64)
        .flat_map(|y| (0..128).map(move |x| (x, y)))
        .filter(|&(x, y)| controller.lit(x, y))
        .collect();
    assert_eq!(lit, [(0, 0), (64, 31), (127, 63)]);
}

#[test]
fn a_frame_that_has_not_changed_sends_nothing() {
    let (controller, mut panel) = bench();
    draw(&mut panel, &[(5, 5)], true);
    send(&mut panel).expect("plugged");
    controller.borrow_mut().transfers.clear();
    draw(&mut panel, &[(5, 5)], true);
    assert_eq!(send(&mut panel), Ok(1));
    assert_eq!(controller.borrow().transfers, []);
}

#[test]
fn only_the_changed_span_of_a_page_is_sent() {
    let (controller, mut panel) = bench();
    send(&mut panel).expect("plugged");
    controller.borrow_mut().transfers.clear();
    draw(&mut panel, &[(10, 20), (14, 17)], true);
    send(&mut panel).expect("plugged");
    // Range: address, control, 6 bytes. Data: address, control, columns 10 to 14.
    assert_eq!(controller.borrow().transfers, [8, 7]);
}

#[test]
fn no_call_keeps_the_bus_longer_than_a_page_takes() {
    let (controller, mut panel) = bench();
    send(&mut panel).expect("plugged");
    draw(
        &mut panel,
        &(0..128).flat_map(|x| (0..64).map(move |y| (x, y))).collect::<Vec<_>>(),
        true,
    );
    panel.begin();
    let mut slices = 0;
    loop {
        controller.borrow_mut().transfers.clear();
        let more = panel.flush();
        slices += 1;
        let bytes: usize = controller.borrow().transfers.iter().sum();
        // 9 clocks a byte at 400 kHz.
        let milliseconds = bytes as f64 * 9.0 / 400.0;
        assert!(milliseconds < 3.2, "{milliseconds} ms");
        if more.is_ok() {
            break;
        }
    }
    assert_eq!(slices, 8);
}

#[test]
fn an_absent_panel_is_a_fault_and_then_left_alone_until_it_is_tended() {
    let (controller, mut panel) = bench();
    controller.borrow_mut().plugged = false;
    assert_eq!(send(&mut panel), Err(ScreenFault));
    controller.borrow_mut().transfers.clear();
    for _ in 0..10 {
        assert_eq!(send(&mut panel), Err(ScreenFault));
    }
    assert_eq!(controller.borrow().transfers, []);
    assert_eq!(panel.tend(), Err(ScreenFault));
    assert_eq!(controller.borrow().transfers, [3]);
}

#[test]
fn a_panel_plugged_in_late_shows_the_frame_at_the_next_tending() {
    let (controller, mut panel) = bench();
    controller.borrow_mut().plugged = false;
    draw(&mut panel, &[(3, 60)], true);
    let _ = send(&mut panel);
    *controller.borrow_mut() = Controller::fresh();
    assert_eq!(panel.tend(), Ok(()));
    let controller = controller.borrow();
    assert!(controller.sees() && controller.lit(3, 60) && !controller.lit(4, 60));
}

#[test]
fn a_panel_that_lost_power_is_lit_at_once_and_whole_after_eight_tendings() {
    let (controller, mut panel) = bench();
    draw(&mut panel, &[(100, 2), (3, 60)], true);
    send(&mut panel).expect("plugged");
    let expected = controller.borrow().memory;
    *controller.borrow_mut() = Controller::fresh();
    panel.tend().expect("plugged");
    assert!(controller.borrow().sees());
    for _ in 1..8 {
        panel.tend().expect("plugged");
    }
    assert_eq!(controller.borrow().memory, expected);
}

#[test]
fn brightness_reaches_the_panel_and_zero_turns_it_off() {
    let (controller, mut panel) = bench();
    send(&mut panel).expect("plugged");
    panel.brightness(1);
    assert_eq!((controller.borrow().on, controller.borrow().contrast), (true, 1));
    panel.brightness(0);
    assert!(!controller.borrow().on);
    controller.borrow_mut().transfers.clear();
    panel.tend().expect("nothing to do");
    assert_eq!(controller.borrow().transfers, [], "a dark panel is not spoken to");
    panel.brightness(200);
    assert_eq!((controller.borrow().on, controller.borrow().contrast), (true, 200));
}

proptest! {
    /// Whatever is drawn between frames, unplugged or not: once it answers, the panel shows what was drawn.
    #[test]
    fn the_panel_shows_what_was_drawn(steps in prop::collection::vec(
        (prop::collection::vec((-2..130_i32, -2..66_i32), 0..40), any::<bool>(), 0..4_u8), 1..12))
    {
        let (controller, mut panel) = bench();
        let mut drawn = [false; 128 * 64];
        for (points, on, event) in steps {
            controller.borrow_mut().plugged = event != 0;
            draw(&mut panel, &points, on);
            for (x, y) in points {
                if (0..128).contains(&x) && (0..64).contains(&y) {
                    drawn[(y * 128 + x) as usize] = on;
                }
            }
            let _ = send(&mut panel);
        }
        controller.borrow_mut().plugged = true;
        panel.tend().expect("plugged");
        send(&mut panel).expect("plugged");
        let controller = controller.borrow();
        for (n, on) in drawn.into_iter().enumerate() {
            prop_assert_eq!(controller.lit(n % 128, n / 128), on);
        }
    }
}
