//! The load-cell converter: what comes out of it, whichever it is.

mod sample;

pub use sample::{ConverterFault, RawSample, SampleRate};
