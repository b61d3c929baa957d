//! The load-cell converter: its raw samples and its driver.

mod sample;

pub use sample::{ConverterFault, RawSample, SampleRate};
