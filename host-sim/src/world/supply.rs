//! The battery: a protected lithium cell that runs down, or a USB lead.

/// What feeds the scale.
#[derive(Clone, Debug)]
pub struct Supply {
    /// Charge left, 0 to 1.
    pub charge: f64,
    /// A USB lead is plugged in.
    pub usb: bool,
    capacity_mah: f64,
}

impl Supply {
    /// A full battery of `capacity_mah`.
    #[must_use]
    pub fn battery(capacity_mah: f64) -> Self {
        Self {
            charge: 1.0,
            usb: false,
            capacity_mah,
        }
    }

    /// Lets `dt` seconds pass at `milliamperes`; a lead charges at a fifth of the capacity an hour.
    pub fn pass(&mut self, milliamperes: f64, dt: f64) {
        let hours = dt / 3_600.0;
        let change = if self.usb {
            0.2 * hours
        } else {
            -milliamperes * hours / self.capacity_mah
        };
        self.charge = (self.charge + change).clamp(0.0, 1.0);
    }

    /// Terminal voltage, V: the usual curve of a lithium cell by straight pieces (common practice, no source).
    #[must_use]
    pub fn volts(&self) -> f64 {
        if self.usb {
            return 5.0;
        }
        let mut below = CURVE[0];
        for above in CURVE {
            if self.charge <= above.0 {
                let span = above.0 - below.0;
                let part = if span > 0.0 {
                    (self.charge - below.0) / span
                } else {
                    0.0
                };
                return below.1 + part * (above.1 - below.1);
            }
            below = above;
        }
        below.1
    }
}

const CURVE: [(f64, f64); 6] = [
    (0.0, 3.0),
    (0.05, 3.45),
    (0.2, 3.65),
    (0.5, 3.8),
    (0.8, 4.0),
    (1.0, 4.2),
];
