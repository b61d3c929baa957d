//! The supply: a sign when it runs low, and off before it breaks down by itself.

use super::application::App;
use crate::units::Millivolts;

impl App {
    /// The supply was measured.
    pub(super) fn supplied(&mut self, millivolts: Millivolts) {
        self.health.supply = Some(millivolts);
        // Back above the limit only with some margin: a sign that comes and goes tells nothing.
        let limit = if self.status.supply_low {
            LOW_SUPPLY.0.saturating_add(100)
        } else {
            LOW_SUPPLY.0
        };
        self.status.supply_low = millivolts.0 < limit;
        if millivolts < EMPTY_SUPPLY {
            self.stop();
        }
    }
}

/// Below this the battery sign is shown.
const LOW_SUPPLY: Millivolts = Millivolts(3_300);
/// Below this all that draws current is switched off, before the supply breaks down by itself; a key tries again.
const EMPTY_SUPPLY: Millivolts = Millivolts(1_850);
