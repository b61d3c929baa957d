//! What knows the RP2040 on a Raspberry Pi Pico: its clocks, pads and peripherals, each in a file. Another chip is another folder.

pub(crate) mod board;
mod bus;
mod clocks;
mod flash;
mod guard;
mod keys;
#[cfg(feature = "log")]
pub(crate) mod log;
mod pads;
mod power;
pub(crate) mod setup;
mod sleep;
mod stop;
mod storage;
mod supply;
mod tone;
mod usb;
mod watchdog;
