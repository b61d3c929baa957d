//! The core's own scale under test.

use yarn_scale_core::converter::{RawSample, SampleRate};
use yarn_scale_core::measured::Measured;
use yarn_scale_core::signal::Strictness;
use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
use yarn_scale_core::weighing::{Calibration, CalibrationFault, Scale, ScaleEvent, SteadyLoad};

use super::indicator::{Indicator, Shown, Stated};
use crate::world;

/// The core's scale.
#[derive(Debug)]
pub(crate) struct Ours {
    scale: Scale,
    kept: Vec<Kept>,
}

/// A mark: what was noted, the load as it is known by now, and what the mark was amended to.
#[derive(Clone, Copy, Debug)]
struct Kept {
    noted: Measured,
    /// Standard uncertainty of what went since the mark before, where that is known by itself, mg.
    apart: Option<f32>,
    /// The load as noted.
    at_first: SteadyLoad,
    load: SteadyLoad,
    amended: Option<Measured>,
}

impl Kept {
    /// What the device makes of it now.
    fn weight(&self) -> Measured {
        self.amended.unwrap_or(self.noted)
    }
}

impl Ours {
    /// Switched on with this calibration; gives the steady sign at `odds`, 64ths of a natural logarithm, or as it usually does.
    ///
    /// # Errors
    /// If the core refuses the calibration.
    pub(crate) fn new(
        calibration: world::Calibration,
        rate: SampleRate,
        odds: Option<i16>,
    ) -> Result<Self, CalibrationFault> {
        let zero = FineCounts((calibration.zero_counts * f64::from(FineCounts::PER_COUNT)).round() as i32);
        let calibration = Calibration::straight(zero, calibration.counts_per_g as f32)?;
        let mut scale = Scale::new(calibration, Milligrams::from_grams(500), rate, None);
        if let Some(give) = odds {
            let usual = Strictness::usual(rate);
            scale.set_strictness(Strictness {
                give,
                take: usual.take.min(give),
            });
        }
        Ok(Self {
            scale,
            kept: Vec::new(),
        })
    }
}

impl Indicator for Ours {
    fn sample(&mut self, t_ms: u64, raw: i32) -> Shown {
        let event = self.scale.sample(Instant(t_ms), Ok(RawSample(Counts(raw))));
        let open = self.kept.iter_mut().filter(|kept| kept.amended.is_none());
        if event == Some(ScaleEvent::Emptied) {
            for kept in open {
                kept.amended = self.scale.amended(&kept.load);
            }
        } else if let Some(now) = self.scale.steady() {
            for kept in open.filter(|kept| now.goes_on_from(&kept.load)) {
                kept.load = now;
            }
        }
        let readout = self.scale.readout();
        Shown {
            grams: readout.net.map(|net| f64::from(net.value.0) / 1_000.0),
            tenths: readout.shown.map(|shown| i64::from(shown.steps())),
            steady: readout.steady.is_some(),
        }
    }

    fn keep(&mut self) -> Option<usize> {
        let load = self.scale.stood()?;
        self.kept.push(Kept {
            noted: self.scale.gross(&load),
            apart: self
                .kept
                .last()
                .and_then(|before| self.scale.apart(&before.at_first, &load)),
            at_first: load,
            load,
            amended: None,
        });
        Some(self.kept.len() - 1)
    }

    fn used(&self, before: usize, after: usize) -> Option<Stated> {
        let [from, to] = [self.kept.get(before)?, self.kept.get(after)?];
        let mut used = self.scale.conditions().used(from.weight(), to.weight());
        if let Some(apart) = to.apart.filter(|_| after == before + 1) {
            used.u = used.u.min(apart);
        }
        Some(stated(used))
    }
}

fn stated(used: Measured) -> Stated {
    Stated {
        grams: f64::from(used.value.0) / 1_000.0,
        interval: Some(1.96 * f64::from(used.u) / 1_000.0),
    }
}
