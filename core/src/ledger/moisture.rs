//! Moisture in the difference of two weights of a yarn: taken out where something is known of it, else in the range.
//!
//! The chain of weights itself stays raw, so that the sums hold to the milligram; what is shown of a section is corrected.

use heapless::Deque;

use super::{Ledger, Step};
use crate::journal::{Entry, Record};
use crate::math::rss;
use crate::measured::Measured;
use crate::sock::Fibre;
use crate::sock::moisture::{Correction, MoistureKnown, SENSOR_AT_MARKS_U, went};
use crate::units::Stamp;

/// Weighings of the control skein that are remembered.
const KEPT: usize = 16;

/// A control skein weighed within this time of a mark speaks for it, seconds.
const BESIDE: u32 = 3_600;

/// The control skein's weighings.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Controls {
    latest: Deque<(Stamp, Measured), KEPT>,
}

impl Controls {
    /// Learns from a record.
    pub(super) fn learn(&mut self, entry: &Entry) {
        let Record::Control { weight } = entry.record else {
            return;
        };
        if self.latest.is_full() {
            self.latest.pop_front();
        }
        // There is room now.
        let _ = self.latest.push_back((entry.at, weight));
    }

    fn beside(&self, at: Stamp) -> Option<Measured> {
        let beside = self.latest.iter().filter(|(when, _)| when.0.abs_diff(at.0) <= BESIDE);
        beside
            .min_by_key(|(when, _)| when.0.abs_diff(at.0))
            .map(|&(_, weight)| weight)
    }
}

impl Ledger {
    /// What went between the step at `place` and the yarn's step before it, moisture seen to, and by which way; `None` for a
    /// first weigh-in. The uncertainties of both weights combine by the root sum of squares, unless what went is known better.
    #[must_use]
    pub fn used_with_correction(&self, place: usize) -> Option<(Measured, Correction)> {
        let after = self.steps().get(place)?;
        Some(self.between(self.before(place)?, after))
    }

    /// The same for a weight that is on the pan now and not noted; `apart` is the uncertainty of what went if that is known by itself, mg.
    #[must_use]
    pub fn would_take(
        &self,
        before: &Step,
        now: Measured,
        at: Stamp,
        humidity: Option<f32>,
        apart: Option<f32>,
    ) -> (Measured, Correction) {
        self.would_take_of(self.label(before.yarn).fibre, before, now, at, (humidity, apart))
    }

    /// The same of a yarn of any pair, of this fibre.
    #[must_use]
    pub fn would_take_of(
        &self,
        fibre: Fibre,
        before: &Step,
        now: Measured,
        at: Stamp,
        (humidity, apart): (Option<f32>, Option<f32>),
    ) -> (Measured, Correction) {
        let hours = at.0.saturating_sub(before.at.0) as f32 / 3_600.0;
        let then = before.weight.air.map(crate::sock::Humidity::percent);
        let humidity = then.zip(humidity).map(|(then, now)| (then, now, SENSOR_AT_MARKS_U));
        let control = self.controls().beside(before.at).zip(self.controls().beside(at));
        let known = MoistureKnown { humidity, control };
        let (mut before, mut now, mut rest) = match self.conditions() {
            None => (before.weight.net, now, 0.0),
            Some(on) => {
                let [before, now] = [before.weight.net, now].map(|reading| on.own(reading));
                (before, now, on.difference_u(before.value, now.value))
            }
        };
        // An amendment can have made both weights so good that they tell more.
        if let Some(u) = apart.filter(|&u| u < rss(rss(before.u, now.u), rest)) {
            (before.u, now.u, rest) = (0.0, u, 0.0);
        }
        let (mut went, way) = went(before, now, fibre, hours, known);
        went.u = rss(went.u, rest);
        (went, way)
    }

    fn between(&self, before: &Step, after: &Step) -> (Measured, Correction) {
        let humidity = after.weight.air.map(crate::sock::Humidity::percent);
        let apart = after.apart.filter(|&(since, _)| since == before.sequence);
        self.would_take(before, after.weight.net, after.at, humidity, apart.map(|(_, u)| u))
    }
}
