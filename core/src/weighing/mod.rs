//! From a level in counts to grams: calibration, zero, tare, limits, indication, and how far each may be trusted.

mod bowl;
pub mod budget;
pub mod calibration;
mod coins;
mod comparing;
mod conditions;
pub mod creep;
pub mod display;
mod dozing;
mod empty_pan;
mod fine;
pub mod fit;
pub mod indication;
pub mod load;
pub mod readout;
mod requests;
pub mod restless;
pub mod scale;
pub mod zero;

pub use budget::Budget;
pub use calibration::{Calibration, CalibrationFault, MOST_POINTS, Point, Proof};
pub use coins::{COINS, Coin, MOST_COINS};
pub use conditions::Conditions;
pub use indication::{Indication, Unit};
pub use load::{SteadyLoad, ZeroPoint};
pub use readout::{Condition, Readout, ScaleEvent};
pub use scale::Scale;
pub use zero::PanState;
