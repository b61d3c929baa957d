//! The physical world around the core: a scale on a table in a room, with a hand, yarn and everything that shakes.
//!
//! Forces act on a platform, its deflection on the cell, the cell on the converter's filter; noise, rounding and faults come last.
//! Everything random comes from a seed; time is virtual. What the world is made of stands in [`Unit`]; what can be done to it are the
//! methods of [`World`]; beside each word it hands out what was true ([`Truth`]).
//!
//! Parameters are engineering assumptions for a cheap scale: no recording was fitted.

mod actions;
mod cell;
mod disturbance;
mod family;
mod fault;
mod filter;
mod hand;
mod noise;
mod pan;
mod platform;
mod port;
mod random;
mod room;
mod scene;
mod supply;
pub mod things;
mod truth;
mod unit;
mod yarn;

pub use cell::rested_counts;
pub use disturbance::{Disturbance, Steps, Tug};
pub use family::Family;
pub use fault::DigitalFault;
pub use filter::seen;
pub(crate) use hand::ease;
pub use hand::{Gesture, Hand, Manner, Placing, Timing};
pub use noise::{Extra, Noise};
pub use pan::{BodyId, Pan};
pub(crate) use platform::Platform;
pub use port::Port;
pub use random::Stream;
pub use room::Room;
pub use scene::World;
pub use supply::Supply;
pub use truth::{Calibration, Conversion, Truth};
pub use unit::{NoiseClass, Unit, VOLTS_PER_COUNT};
pub use yarn::Body;
