//! When a supply is low, too low to write on, and at its end: each kind at its own voltage.
//!
//! All voltages are at VSYS, behind the Schottky diode, which takes some 0.25 V at the scale's 30 mA (1N5817 data sheet).
//!
//! | supply | sign below | nothing written below | off below |
//! |---|---|---|---|
//! | three alkaline cells | 3.3 V (1.18 V a cell) | 2.9 V (1.05 V) | 1.85 V: drawing an alkaline cell empty does it no harm |
//! | three `NiMH` cells | 3.15 V (1.13 V a cell) | 2.9 V (1.05 V) | 2.6 V (0.95 V): below 0.9 V a cell can be reversed by its neighbours |
//! | one lithium cell | 3.3 V (3.55 V) | 3.05 V (3.3 V) | 2.95 V (3.2 V): before its protection cuts it off without a word |
//! | USB | 4.2 V: a poor cable | 2.9 V | 1.85 V |
//!
//! The cells' end voltages are common practice, no source but their makers' sheets from memory; the board's regulator gives up at
//! 1.8 V (RT6150 data sheet).

use super::application::App;
use crate::journal::SupplyKind;
use crate::units::Millivolts;

/// The three voltages of a supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutOffs {
    /// Below this the sign is shown.
    pub sign: Millivolts,
    /// Below this nothing is written: power could fail during the write.
    pub write: Millivolts,
    /// Below this all that draws current is switched off, before the supply breaks down by itself; a key tries again.
    pub off: Millivolts,
}

impl CutOffs {
    /// Those of a supply; alkaline cells' while nobody has said what it is.
    #[must_use]
    pub const fn of(kind: SupplyKind) -> Self {
        let (sign, write, off) = match kind {
            SupplyKind::Alkaline => (3_300, 2_900, 1_850),
            SupplyKind::NickelMetalHydride => (3_150, 2_900, 2_600),
            SupplyKind::Lithium => (3_300, 3_050, 2_950),
            SupplyKind::Usb => (4_200, 2_900, 1_850),
        };
        Self {
            sign: Millivolts(sign),
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
        let cut_offs = self.cut_offs();
        // Back above the limit only with some margin: a sign that comes and goes tells nothing.
        let limit = if self.status.supply_low {
            cut_offs.sign.0.saturating_add(100)
        } else {
            cut_offs.sign.0
        };
        self.status.supply_low = millivolts.0 < limit;
        if millivolts < cut_offs.off {
            self.stop();
        }
    }
}
