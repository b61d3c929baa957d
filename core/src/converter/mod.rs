//! The load-cell converter: its raw samples and its driver.

mod hx711;
mod sample;

pub use hx711::{Hx711, Uninterrupted};
pub use sample::{ConverterFault, RawSample, SampleRate};
