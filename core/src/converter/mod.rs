//! The load-cell converter: what comes out of it, whichever it is.

mod pace;
mod sample;

pub use pace::{OddRate, Pace};
pub use sample::{ConverterFault, RawSample, SampleRate};
