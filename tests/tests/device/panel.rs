//! The display's driver against models of both controllers (SSD1306 and SH1106 data sheets: control bytes, command lengths, page
//! addressing, the columns that a module shows) on a bus from which they can be unplugged.

use std::cell::RefCell;
use std::rc::Rc;

use embedded_hal::i2c::{ErrorKind, ErrorType, I2c, NoAcknowledgeSource, Operation};
use proptest::prelude::*;
use yarn_scale_core::board::{Screen, ScreenFault};
use yarn_scale_core::screen::Surface;
use yarn_scale_firmware::panel::Panel;
use yarn_scale_firmware::rp2040::pins::DISPLAY_ADDRESS;

/// Which chip, and the column of its memory that the module shows leftmost.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Chip {
    Ssd1306,
    Sh1106 { first: usize },
}

const CHIPS: [Chip; 3] = [Chip::Ssd1306, Chip::Sh1106 { first: 2 }, Chip::Sh1106 { first: 0 }];

impl Chip {
    fn columns(self) -> usize {
        match self {
            Self::Ssd1306 => 128,
            Self::Sh1106 { .. } => 132,
        }
    }

    fn first(self) -> usize {
        match self {
            Self::Ssd1306 => 0,
            Self::Sh1106 { first } => first,
        }
    }
}

#[derive(Debug)]
struct Controller {
    chip: Chip,
    plugged: bool,
    on: bool,
    pump: bool,
    upright: (bool, bool),
    contrast: u8,
    page_addressing: bool,
    memory: [u8; 8 * 132],
    at: (usize, usize),
    /// Bytes of each transfer, address included.
    transfers: Vec<usize>,
    /// Every command byte that began a command.
    commanded: Vec<u8>,
}

impl Controller {
    /// As it is after its supply has come: dark, with anything in memory.
    fn fresh(chip: Chip) -> Self {
        Self {
            chip,
            plugged: true,
            on: false,
            // An SH1106's charge pump is on after reset.
            pump: chip != Chip::Ssd1306,
            upright: (false, false),
            contrast: 0x7F,
            page_addressing: true,
            memory: std::array::from_fn(|n| (n * 37 % 251) as u8),
            at: (0, 0),
            transfers: Vec::new(),
            commanded: Vec::new(),
        }
    }

    /// One that an earlier program has left in the mode that an SH1106 does not have.
    fn left_in_horizontal_mode() -> Self {
        Self {
            page_addressing: false,
            ..Self::fresh(Chip::Ssd1306)
        }
    }

    fn commands(&mut self, bytes: &[u8]) {
        let mut rest = bytes;
        while let [command, after @ ..] = rest {
            let length = match (command, self.chip) {
                (0x81 | 0xA8 | 0xAD | 0xD3 | 0xD5 | 0xD9 | 0xDA | 0xDB, _) | (0x20 | 0x8D, Chip::Ssd1306) => 1,
                // No commands of an SH1106; what follows them is one.
                (0x20 | 0x2E | 0x8D, Chip::Sh1106 { .. }) => 0,
                (
                    0x00..=0x1F | 0x40..=0x7F | 0xA0 | 0xA1 | 0xA4 | 0xA6 | 0xAE | 0xAF | 0xB0..=0xB7 | 0xC0 | 0xC8,
                    _,
                )
                | (0x2E, Chip::Ssd1306) => 0,
                (other, chip) => panic!("not a command of {chip:?}: {other:#04x}"),
            };
            self.commanded.push(*command);
            let (arguments, next) = after.split_at(length);
            match (command, arguments, self.chip) {
                (0x20, &[mode], _) => self.page_addressing = mode == 2,
                (0x81, &[level], _) => self.contrast = level,
                (0x8D, &[pump], _) => self.pump = pump == 0x14,
                (0xAD, &[pump], Chip::Sh1106 { .. }) => self.pump = pump == 0x8B,
                (0x00..=0x0F, ..) => self.at.0 = self.at.0 & 0xF0 | usize::from(*command),
                (0x10..=0x1F, ..) => self.at.0 = self.at.0 & 0x0F | usize::from(command & 15) << 4,
                (0xB0..=0xB7, ..) => self.at.1 = usize::from(command & 7),
                (0xA0 | 0xA1, ..) => self.upright.0 = *command == 0xA1,
                (0xC0 | 0xC8, ..) => self.upright.1 = *command == 0xC8,
                (0xAE, ..) => self.on = false,
                (0xAF, ..) => self.on = true,
                _ => {}
            }
            rest = next;
        }
    }

    fn data(&mut self, bytes: &[u8]) {
        assert!(self.page_addressing, "data before the addressing mode was set");
        let columns = self.chip.columns();
        for &byte in bytes {
            self.memory[self.at.1 * 132 + self.at.0 % columns] = byte;
            self.at.0 = (self.at.0 + 1) % columns;
        }
    }

    fn lit(&self, x: usize, y: usize) -> bool {
        self.memory[y / 8 * 132 + x + self.chip.first()] >> (y % 8) & 1 == 1
    }

    fn sees(&self) -> bool {
        self.on && self.pump && self.upright == (true, true) && self.contrast > 0
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
    bench_with(Chip::Ssd1306)
}

/// A driver that was told where the module's picture begins.
fn bench_with(chip: Chip) -> (Rc<RefCell<Controller>>, Panel<Wire>) {
    let controller = Rc::new(RefCell::new(Controller::fresh(chip)));
    let mut panel = Panel::new(Wire(controller.clone()), DISPLAY_ADDRESS);
    panel.begins_at(chip.first() as u8);
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

fn lit(controller: &Controller) -> Vec<(usize, usize)> {
    let all = (0..64).flat_map(|y| (0..128).map(move |x| (x, y)));
    all.filter(|&(x, y)| controller.lit(x, y)).collect()
}

#[test]
fn the_first_frame_is_whole_and_lit_on_either_chip() {
    for chip in CHIPS {
        let (controller, mut panel) = bench_with(chip);
        draw(&mut panel, &[(0, 0), (127, 63), (64, 31)], true);
        send(&mut panel).expect("plugged");
        let controller = controller.borrow();
        assert!(controller.sees(), "{chip:?}");
        assert_eq!(lit(&controller), [(0, 0), (64, 31), (127, 63)], "{chip:?}");
    }
}

#[test]
fn a_panel_told_where_its_picture_begins_shows_all_of_it() {
    let (controller, mut panel) = bench_with(Chip::Sh1106 { first: 2 });
    panel.begins_at(0);
    draw(&mut panel, &[(0, 5), (127, 5)], true);
    send(&mut panel).expect("plugged");
    let edges = lit(&controller.borrow())
        .into_iter()
        .filter(|&(x, y)| y == 5 && [0, 127].contains(&x));
    assert_eq!(
        edges.count(),
        0,
        "two columns to the left, as an SSD1306 wants it: no edge is where it belongs"
    );
    panel.begins_at(2);
    send(&mut panel).expect("plugged");
    assert_eq!(lit(&controller.borrow()), [(0, 5), (127, 5)]);
}

#[test]
fn a_panel_that_an_earlier_program_left_in_another_mode_is_set() {
    let (controller, mut panel) = bench();
    *controller.borrow_mut() = Controller::left_in_horizontal_mode();
    draw(&mut panel, &[(9, 9)], true);
    send(&mut panel).expect("plugged");
    assert_eq!(lit(&controller.borrow()), [(9, 9)]);
}

#[test]
fn a_lit_panel_is_not_told_its_rows_and_clock_again() {
    for chip in CHIPS {
        let (controller, mut panel) = bench_with(chip);
        send(&mut panel).expect("plugged");
        controller.borrow_mut().commanded.clear();
        for _ in 0..16 {
            panel.tend().expect("plugged");
        }
        let commanded = controller.borrow().commanded.clone();
        for steady in [0xA8, 0xD3, 0xD5, 0xDA, 0xAE] {
            assert!(!commanded.contains(&steady), "{steady:#04x} on {chip:?}");
        }
        let pump = commanded.iter().filter(|&&command| command == 0x8D).count();
        assert_eq!(pump, 2, "the charge pump once in eight");
    }
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
    // Page and column: address, control, 3 bytes. Data: address, control, columns 10 to 14.
    assert_eq!(controller.borrow().transfers, [5, 7]);
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
    *controller.borrow_mut() = Controller::fresh(Chip::Ssd1306);
    assert_eq!(panel.tend(), Ok(()));
    let controller = controller.borrow();
    assert!(controller.sees() && controller.lit(3, 60) && !controller.lit(4, 60));
}

#[test]
fn a_panel_that_lost_power_unnoticed_is_whole_after_eight_tendings() {
    for chip in CHIPS {
        let (controller, mut panel) = bench_with(chip);
        draw(&mut panel, &[(100, 2), (3, 60)], true);
        send(&mut panel).expect("plugged");
        panel.tend().expect("plugged");
        *controller.borrow_mut() = Controller::fresh(chip);
        for _ in 0..8 {
            panel.tend().expect("plugged");
        }
        assert!(controller.borrow().sees(), "{chip:?}");
        assert_eq!(lit(&controller.borrow()), [(100, 2), (3, 60)], "{chip:?}");
    }
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
        (prop::collection::vec((-2..130_i32, -2..66_i32), 0..40), any::<bool>(), 0..4_u8), 1..12), chip in 0..3_usize)
    {
        let (controller, mut panel) = bench_with(CHIPS[chip]);
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
