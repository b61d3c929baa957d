#![no_std]
#![no_main]
//! The yarn scale on a Raspberry Pi Pico. The program is `yarn-scale-core`; what stands here gives it wires and time.

mod board;
mod bus;
mod buzzer;
mod flash;
mod guard;
mod keys;
mod rest;
mod setup;
mod stop;
mod supply;
mod usb;
mod watchdog;

use core::cell::RefCell;

use embedded_graphics::Drawable;
use embedded_graphics::mono_font::MonoTextStyle;
use embedded_graphics::mono_font::ascii::{FONT_6X10, FONT_10X20};
use embedded_graphics::pixelcolor::BinaryColor;
use embedded_graphics::prelude::*;
use embedded_graphics::text::Text;
use yarn_scale_core::app::Wait;
use yarn_scale_core::board::{Board, Converter, Link, Screen};
use yarn_scale_core::units::Duration;

#[rp2040_hal::entry]
fn main() -> ! {
    let parts = setup::parts();
    let bus = RefCell::new(parts.bus);
    let supply = RefCell::new(parts.supply);
    let mut board = board::Pico::new(parts.rest, &bus, &supply, &parts.usb);
    let _ = board.cause_of_start();
    let mut counts = 0;
    let mut presses = [0u8; 3];
    let mut last = [false; 3];
    loop {
        let now = board.now();
        match board.converter().read(now) {
            Ok(sample) => counts = sample.0.0,
            Err(nb::Error::WouldBlock) => {}
            Err(nb::Error::Other(_)) => counts = 9_999_999,
        }
        let levels = board.levels();
        let current = [levels.zero, levels.mark, levels.next];
        for (key, press) in presses.iter_mut().enumerate() {
            if current[key] && !last[key] {
                *press = press.wrapping_add(1);
            }
        }
        last = current;
        let mut bytes = [0; 64];
        let length = board.link().read(&mut bytes);
        board.link().write(&bytes[..length]);
        let _ = board.screen().clear(BinaryColor::Off);
        let mut digits = [0; 12];
        let _ = Text::new(
            decimal(counts, &mut digits),
            Point::new(0, 20),
            MonoTextStyle::new(&FONT_10X20, BinaryColor::On),
        )
        .draw(board.screen());
        for (key, press) in presses.into_iter().enumerate() {
            let _ = Text::new(
                decimal(i32::from(press), &mut digits),
                Point::new(40 * key as i32, 60),
                MonoTextStyle::new(&FONT_6X10, BinaryColor::On),
            )
            .draw(board.screen());
        }
        board.screen().begin();
        while matches!(board.screen().flush(), Err(nb::Error::WouldBlock)) {}
        let until = board.now() + Duration(100);
        board.rest(Wait {
            until,
            for_samples: true,
        });
    }
}

fn decimal(value: i32, digits: &mut [u8; 12]) -> &str {
    let mut rest = value.unsigned_abs();
    let mut at = digits.len();
    loop {
        at -= 1;
        digits[at] = b'0' + (rest % 10) as u8;
        rest /= 10;
        if rest == 0 {
            break;
        }
    }
    if value < 0 {
        at -= 1;
        digits[at] = b'-';
    }
    core::str::from_utf8(&digits[at..]).unwrap_or("?")
}
