//! For how many days the cells last: what they have left, by their voltage, divided by what a day takes as the scale was used.
//!
//! Both are rough, and said with "about": makers' curves differ, cold cells give less, and the voltage is measured within 3 %. The hours
//! of a deep sleep are not counted, it passes for a day: so it is never taken for less than an hour a day in use.

use super::application::App;
use crate::converter::SampleRate;
use crate::journal::SupplyKind;
use crate::units::Millivolts;

/// Voltage at VSYS, mV, and what is left until nothing is written any more, mAh; rising.
type Curve = [(u16, u16); 5];

// Discharge at some mA and 20 degrees Celsius: by cell 1.05, 1.15, 1.25, 1.4, 1.55 V alkaline; 1.05, 1.18, 1.25, 1.3, 1.4 V NiMH; 3.3, 3.6, 3.7, 3.85,
// 4.2 V lithium; less 0.25 V over the diode (common practice, makers' curves from memory).
const ALKALINE: Curve = [(2_900, 0), (3_200, 264), (3_500, 770), (3_950, 1_716), (4_400, 2_200)];
const NICKEL: Curve = [(2_900, 0), (3_290, 285), (3_500, 1_140), (3_650, 1_615), (3_950, 1_900)];
const LITHIUM: Curve = [(3_050, 0), (3_350, 88), (3_450, 242), (3_600, 605), (3_950, 1_100)];

/// What a day asleep takes, mAh, and an hour in use on top of it, at ten samples a second and at eighty
/// (`hardware-notes/power-budget.md`, which `tests/emulator/figures --days` prints).
const DAY: u32 = 36;
const HOUR: u32 = 12;
const HOUR_AT_EIGHTY: u32 = 28;

/// Days of an hour in use that are taken to have gone before the first.
const ASSUMED: u32 = 3;

/// Days that are left, rounded down, at so many hours in use a day; `None` where nothing runs out.
#[must_use]
pub fn days_left(kind: SupplyKind, supply: Millivolts, hours: u16, rate: SampleRate) -> Option<u16> {
    let curve = match kind {
        SupplyKind::Alkaline => &ALKALINE,
        SupplyKind::NickelMetalHydride => &NICKEL,
        SupplyKind::Lithium => &LITHIUM,
        SupplyKind::Usb => return None,
    };
    let hour = match rate {
        SampleRate::Ten => HOUR,
        SampleRate::Eighty => HOUR_AT_EIGHTY,
    };
    let day = DAY.saturating_add(hour.saturating_mul(hours.into()));
    let days = u32::from(charge(curve, supply.0)).checked_div(day)?;
    u16::try_from(days).ok()
}

/// Between the points of a curve by straight lines, beyond them as at its ends.
fn charge(curve: &Curve, millivolts: u16) -> u16 {
    let mut below = (0, 0);
    for &(at, left) in curve {
        if millivolts < at {
            let (from, least) = below;
            let part = u32::from(left.saturating_sub(least)).saturating_mul(millivolts.saturating_sub(from).into());
            let part = part.checked_div(at.saturating_sub(from).into()).unwrap_or(0);
            return least.saturating_add(u16::try_from(part).unwrap_or(0));
        }
        below = (at, left);
    }
    below.1
}

impl App {
    /// Hours in use a day since power came on, to the nearest, one at least.
    pub(super) fn hours_a_day(&self) -> u16 {
        let days = self.stamp().0.saturating_sub(self.started.0) / 86_400;
        let minutes = (self.lit.0 / 60_000).saturating_add(ASSUMED * 60);
        let days = days.saturating_add(ASSUMED);
        let hours = minutes.checked_div(days).unwrap_or(0).saturating_add(30) / 60;
        u16::try_from(hours).unwrap_or(24).max(1)
    }

    /// Days that are left at this voltage.
    pub(super) fn days_left(&self, supply: Millivolts) -> Option<u16> {
        let kind = self.book.settings().supply.unwrap_or_default();
        let rate = self.pace.found().and_then(Result::ok).unwrap_or(SampleRate::Ten);
        days_left(kind, supply, self.hours_a_day(), rate)
    }
}
