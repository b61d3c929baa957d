#![no_std]
#![no_main]
//! The yarn scale on a Raspberry Pi Pico. The program is `yarn-scale-core`; what stands here gives it wires and time.

mod rp2040;

use core::cell::RefCell;

use yarn_scale_core::app::Configuration;
use yarn_scale_core::run::Device;
use yarn_scale_core::weighing::Calibration;
use yarn_scale_firmware::rp2040::pins;

#[cfg(feature = "log")]
use crate::rp2040::log;
use crate::rp2040::{board, setup};

#[rp2040_hal::entry]
fn main() -> ! {
    let parts = setup::parts();
    let bus = RefCell::new(parts.bus);
    let supply = RefCell::new(parts.supply);
    let mut board = board::Pico::new(parts.unshared, &bus, &supply, &parts.usb, parts.serial_number.as_str());
    if board.is_another_board() {
        board.refuse();
    }

    let cause = board.cause_of_start();
    let configuration = Configuration {
        capacity: pins::CELL_CAPACITY,
        calibration: Calibration::nominal(pins::CELL_CAPACITY),
        calibrated: false,
        version: concat!(env!("CARGO_PKG_VERSION"), " ", env!("YARN_SCALE_COMMIT")),
        chip: parts.chip,
    };
    #[cfg(feature = "log")]
    log::boot(configuration.version, cause);
    let mut device = Device::new(configuration);
    device.start(&mut board, cause);
    loop {
        let wait = device.step(&mut board);
        board.rest(wait);
    }
}
