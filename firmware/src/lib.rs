#![no_std]
//! Wiring and chip drivers of the yarn scale's device, as far as they need no particular microcontroller: any machine can build
//! and test them. What is the RP2040's own stands in the binary beside (`main.rs`), built by `firmware/build`.

pub mod buzzer;
pub mod humidity;
pub mod hx711;
pub mod identity;
pub mod panel;

/// What of the RP2040's own can be checked on any machine; the rest is in the binary's module of that name.
pub mod rp2040 {
    pub mod pins;
}
