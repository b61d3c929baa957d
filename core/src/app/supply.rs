//! When a supply is low, too low to write on, and at its end: each kind at its own voltage.
//!
//! All voltages are at VSYS, behind the Schottky diode, which takes some 0.25 V at the scale's 30 mA (1N5817 data sheet).
//!
//! | supply | nothing written below | off below |
//! |---|---|---|
//! | three alkaline cells | 2.9 V (1.05 V a cell) | 1.85 V: drawing an alkaline cell empty does it no harm |
//! | three `NiMH` cells | 2.9 V (1.05 V a cell) | 2.6 V (0.95 V): below 0.9 V a cell can be reversed by its neighbours |
//! | one lithium cell | 3.05 V (3.3 V) | 2.95 V (3.2 V): before its protection cuts it off without a word |
//! | USB | 2.9 V | 1.85 V |
//!
//! Low is a week before nothing is written any more (`cells.rs`), on USB a poor cable.
//!
//! The cells' end voltages are common practice, no source but their makers' sheets from memory; the board's regulator gives up at
//! 1.8 V (RT6150 data sheet).

use super::application::App;
use crate::journal::SupplyKind;
use crate::units::Millivolts;

/// Below this a USB supply is low.
pub const POOR_CABLE: Millivolts = Millivolts(4_200);

/// Cells are low when they last no longer than this, days.
pub const LOW_DAYS: u16 = 7;

/// The two voltages of a supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutOffs {
    /// Below this nothing is written: power could fail during the write.
    pub write: Millivolts,
    /// Below this all that draws current is switched off, before the supply breaks down by itself; a key tries again.
    pub off: Millivolts,
}

impl CutOffs {
    /// Those of a supply; alkaline cells' until the setting is made.
    #[must_use]
    pub const fn of(kind: SupplyKind) -> Self {
        let (write, off) = match kind {
            SupplyKind::Alkaline => (2_900, 1_850),
            SupplyKind::NickelMetalHydride => (2_900, 2_600),
            SupplyKind::Lithium => (3_050, 2_950),
            SupplyKind::Usb => (2_900, 1_850),
        };
        Self {
            write: Millivolts(write),
            off: Millivolts(off),
        }
    }
}

impl App {
    pub(super) fn cut_offs(&self) -> CutOffs {
        CutOffs::of(self.book.settings().supply.unwrap_or_default())
    }

    /// The supply was measured.
    pub(super) fn supplied(&mut self, millivolts: Millivolts) {
        self.health.supply = Some(millivolts);
        // With a plug the cells cannot be measured.
        self.health.lasts = self.days_left(millivolts).filter(|_| !self.plugged);
        self.health.hours_a_day = self.hours_a_day();
        // No longer low only with some margin: a sign that comes and goes tells nothing.
        let margin = if self.status.supply_low { 100 } else { 0 };
        let seen = Millivolts(millivolts.0.saturating_sub(margin));
        self.status.supply_low = self.days_left(seen).map_or(seen < POOR_CABLE, |days| days <= LOW_DAYS);
        if millivolts < self.cut_offs().off {
            self.stop();
        }
    }
}
