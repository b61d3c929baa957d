//! The firmware's parts on the host, and the arithmetic both sides share.

mod humidity;
mod hx711_driver;
mod panel;
mod pins;
mod wiring;
