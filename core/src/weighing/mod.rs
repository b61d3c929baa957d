//! From a level in counts to grams: calibration, zero, tare, limits, indication, and how far each may be trusted.

mod bowl;
mod budget;
mod calibration;
mod coins;
mod comparing;
mod conditions;
mod creep;
mod display;
mod dozing;
mod empty_pan;
mod fine;
mod fit;
mod indication;
mod load;
mod readout;
mod requests;
mod restless;
mod scale;
#[cfg(test)]
mod tests;
mod zero;

pub use budget::Budget;
pub(crate) use calibration::MOST_POINTS;
pub use calibration::{Calibration, CalibrationFault, Point, Proof};
pub(crate) use coins::MOST_COINS;
pub use coins::{COINS, Coin};
pub use conditions::Conditions;
pub use indication::{Indication, Unit};
pub use load::{SteadyLoad, ZeroPoint};
pub use readout::{Condition, Readout, ScaleEvent};
pub use scale::Scale;
pub use zero::PanState;
