//! What the scale is asked to do: begin after a rest, another unit, a bowl taken off, zero.

use crate::measured::Measured;
use crate::units::Instant;
use crate::weighing::indication::Unit;
use crate::weighing::readout::Condition;
use crate::weighing::scale::Scale;

impl Scale {
    /// The converter has been off for a while, until `now`: the cell has cooled down and its zero may be elsewhere. It is not proven any
    /// more, nothing is known to lie on the pan or not, and the cell warms up once more.
    pub fn has_rested(&mut self, now: Instant) {
        self.on_since = now;
        self.zero.doubt();
        let _ = self.lying.end();
        self.estimator.interrupt();
        self.estimator.expect(self.zero.now().level);
        self.fine.forget();
        self.steady = None;
        self.gross = None;
        self.display.clear();
        self.condition = Condition::Starting;
    }

    /// Chooses the unit of the display.
    pub fn set_unit(&mut self, unit: Unit) {
        self.display.set_unit(unit);
        self.show(false);
    }

    /// The unit of the display.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.display.unit()
    }

    /// Takes `bowl` off every net reading from now on.
    pub fn tare(&mut self, bowl: Measured) {
        self.tare = Some(bowl);
        self.show(true);
    }

    /// What is taken off.
    #[must_use]
    pub const fn tared(&self) -> Option<Measured> {
        self.tare
    }

    /// The press of ZERO: what is on the pan now counts as nothing. Says whether it did: only when steady, and within 4 % of capacity of
    /// the first zero since power-on (OIML R 76-1, 4.5.1), or within 20 % of the stored one while there has been none.
    pub fn zero(&mut self) -> bool {
        let Some(level) = self.estimator.reading().and_then(|reading| reading.steady) else {
            return false;
        };
        let range = if self.zero.now().proven {
            ZERO_RANGE
        } else {
            INITIAL_RANGE
        };
        let from = self.calibration.mass(level.level(), self.zero.initial());
        if from.abs() > range * self.capacity.0 as f32 {
            return false;
        }
        self.condition = Condition::Weighing;
        self.empty(level, 0.0);
        true
    }
}

/// Range of the zero press, of capacity (OIML R 76-1, 4.5.1).
const ZERO_RANGE: f32 = 0.04;
/// Range of the first zero, of capacity (OIML R 76-1, 4.5.1).
const INITIAL_RANGE: f32 = 0.2;
