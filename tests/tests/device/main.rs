//! The firmware's parts on the host, and the arithmetic both sides share.

mod humidity;
mod hx711_driver;
mod math_round;
mod math_sqrt;
mod panel;
mod pins;
mod wiring;
