//! The whole scale: samples in, grams out.

use crate::converter::{ConverterFault, RawSample, SampleRate};
use crate::measured::Measured;
use crate::signal::{Check, Estimator, Reading, SensorFault};
use crate::units::{FineCounts, Instant, Milligrams};
use crate::weighing::budget::Budget;
use crate::weighing::calibration::Calibration;
use crate::weighing::indication::{Indication, Unit};
use crate::weighing::load::{SteadyLoad, ZeroPoint};
use crate::weighing::zero::Zero;

/// Whether the scale can say anything, and if not, why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Condition {
    /// No sample yet.
    Starting,
    /// All is well.
    Weighing,
    /// The sensor is faulty.
    Fault(SensorFault),
    /// More than capacity and nine divisions: take it off.
    Overload,
    /// More than twenty divisions under zero: the pan is off, or something lifts it.
    Underload,
    /// Far under zero, as when the cell is mounted or wired the other way round.
    Reversed,
}

/// What happened with a sample.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ScaleEvent {
    /// The pan was seen empty and the zero taken anew; earlier loads may be amended now.
    Emptied,
    /// A load has settled: a visit.
    Settled(SteadyLoad),
    /// The steady load is no longer there.
    Lifted,
}

/// What the scale says now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readout {
    /// Everything on the pan.
    pub gross: Option<Measured>,
    /// Less the tare; the best estimate, not rounded to a division.
    pub net: Option<Measured>,
    /// What the display shows.
    pub shown: Option<Indication>,
    /// The load, if it is steady and the sign may be shown.
    pub steady: Option<SteadyLoad>,
    /// Whether there can be a number at all.
    pub condition: Condition,
    /// Whether the pan has been seen empty since power-on.
    pub zero_proven: bool,
    /// Whether the pan is known to be empty.
    pub empty: bool,
    /// This unit's noise, one tenth of a second, mg.
    pub noise: f32,
    /// How the level moves while steady, mg a minute.
    pub drift: f32,
}

/// A scale: check, estimator, calibration, zero, tare, indication.
#[derive(Clone, Debug)]
pub struct Scale {
    calibration: Calibration,
    capacity: Milligrams,
    check: Check,
    estimator: Estimator,
    zero: Zero,
    before: Option<ZeroPoint>,
    tare: Option<Measured>,
    unit: Unit,
    condition: Condition,
    doubtful: u8,
    patience: u8,
    reading: Option<Reading>,
    steady: Option<SteadyLoad>,
    since: Option<Instant>,
    heaviest: f32,
    shown: Option<Indication>,
}

impl Scale {
    /// A scale that has just been switched on. `stored_zero` is the last zero of the time before, if there was any.
    #[must_use]
    pub fn new(
        calibration: Calibration,
        capacity: Milligrams,
        rate: SampleRate,
        stored_zero: Option<FineCounts>,
    ) -> Self {
        Self {
            calibration,
            capacity,
            check: Check::new(rate),
            estimator: Estimator::new(rate, DIVISION / calibration.mg_per_count()),
            zero: Zero::stored(stored_zero.unwrap_or(calibration.zero())),
            before: None,
            tare: None,
            unit: Unit::Gram,
            condition: Condition::Starting,
            doubtful: 0,
            patience: match rate {
                SampleRate::Ten => 3,
                SampleRate::Eighty => 12,
            },
            reading: None,
            steady: None,
            since: None,
            heaviest: 0.0,
            shown: None,
        }
    }

    /// Takes what the converter gave at `now` and says what it changed.
    pub fn sample(&mut self, now: Instant, raw: Result<RawSample, ConverterFault>) -> Option<ScaleEvent> {
        match self.check.judge(now, raw) {
            Ok(sample) => {
                self.doubtful = 0;
                self.reading = self.estimator.take(sample);
                self.weigh(now)
            }
            Err(SensorFault::TimeBackwards) => None,
            Err(fault @ (SensorFault::Garbled | SensorFault::SaturatedHigh | SensorFault::SaturatedLow)) => {
                self.doubtful = self.doubtful.saturating_add(1);
                if self.doubtful < self.patience {
                    return None;
                }
                let upwards = self.calibration.mg_per_count() > 0.0;
                self.fail(match (fault, upwards) {
                    (SensorFault::SaturatedHigh, true) | (SensorFault::SaturatedLow, false) => Condition::Overload,
                    (SensorFault::SaturatedHigh, false) | (SensorFault::SaturatedLow, true) => Condition::Underload,
                    _ => Condition::Fault(fault),
                })
            }
            Err(fault) => self.fail(Condition::Fault(fault)),
        }
    }

    /// What the scale says now.
    #[must_use]
    pub fn readout(&self) -> Readout {
        let reading = self.reading.filter(|_| self.condition == Condition::Weighing);
        let gross = reading.map(|reading| {
            let value = self.calibration.mass(reading.level, self.zero.now().level);
            Measured {
                value: rounded(value),
                u: self.steady.map_or(DIVISION, |load| self.budget(&load).combined()),
            }
        });
        Readout {
            gross,
            net: gross.map(|gross| self.less_tare(gross)),
            shown: gross.and(self.shown),
            steady: self.steady,
            condition: self.condition,
            zero_proven: self.zero.now().proven,
            empty: self.zero.is_empty(),
            noise: self.estimator.noise().sigma() * self.calibration.mg_per_count().abs(),
            drift: 0.0,
        }
    }

    /// Chooses the unit of the display.
    pub fn set_unit(&mut self, unit: Unit) {
        self.unit = unit;
        self.shown = None;
        self.show();
    }

    /// The unit of the display.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.unit
    }

    /// Takes `bowl` off every net reading from now on.
    pub fn tare(&mut self, bowl: Measured) {
        self.tare = Some(bowl);
        self.shown = None;
        self.show();
    }

    /// Gross readings again.
    pub fn untare(&mut self) {
        self.tare = None;
        self.shown = None;
        self.show();
    }

    /// What is taken off.
    #[must_use]
    pub const fn tared(&self) -> Option<Measured> {
        self.tare
    }

    /// The press of ZERO: what is on the pan now counts as nothing. Says whether it did: only when steady, and within 4 % of capacity
    /// of the calibration's zero (OIML R 76-1, 4.5.1).
    pub fn zero(&mut self) -> bool {
        let Some(level) = self.reading.and_then(|reading| reading.steady) else {
            return false;
        };
        let gross = self.calibration.mass(level.level(), self.calibration.zero());
        if gross.abs() > ZERO_RANGE * self.capacity.0 as f32 {
            return false;
        }
        self.before = Some(self.zero.now());
        self.zero.capture(level);
        self.emptied();
        true
    }

    /// The level in the converter's own scale while it is steady, whatever it means: for calibration.
    #[must_use]
    pub fn level(&self) -> Option<FineCounts> {
        self.reading
            .and_then(|reading| reading.steady)
            .map(|steady| steady.level())
    }

    /// The zero in force: what to store before power goes.
    #[must_use]
    pub const fn zero_point(&self) -> ZeroPoint {
        self.zero.now()
    }

    /// The calibration in use.
    #[must_use]
    pub const fn calibration(&self) -> &Calibration {
        &self.calibration
    }

    /// Everything on the pan when `load` settled, by the zero of then.
    #[must_use]
    pub fn gross(&self, load: &SteadyLoad) -> Measured {
        Measured {
            value: rounded(self.calibration.mass(load.level(), load.zero.level)),
            u: self.budget(load).combined(),
        }
    }

    /// The same by the zero interpolated between before and after, once the pan has been seen empty after `load`.
    #[must_use]
    pub fn amended(&self, load: &SteadyLoad) -> Option<Measured> {
        let after = self.zero.now();
        if !after.proven || after.at <= load.at() {
            return None;
        }
        let zero = if load.zero.proven {
            let whole = after.at.since(load.zero.at).0.max(1) as f32;
            let part = load.at().since(load.zero.at).0 as f32 / whole;
            let apart = after.level.0.saturating_sub(load.zero.level.0) as f32;
            FineCounts(load.zero.level.0.saturating_add((part * apart) as i32))
        } else {
            after.level
        };
        let proven = SteadyLoad {
            zero: ZeroPoint { level: zero, ..after },
            ..*load
        };
        Some(Measured {
            value: rounded(self.calibration.mass(load.level(), zero)),
            u: self.budget(&proven).combined(),
        })
    }

    /// What went off the pan between two loads: `before − after`.
    #[must_use]
    pub fn difference(&self, before: &SteadyLoad, after: &SteadyLoad) -> Measured {
        let value = self.calibration.mass(before.level(), before.zero.level)
            - self.calibration.mass(after.level(), after.zero.level);
        let (a, b) = (self.budget(before), self.budget(after));
        let span = self.calibration.u_span() * value.abs();
        let (a, b) = (Budget { span, ..a }, Budget { span: 0.0, ..b });
        Measured {
            value: rounded(value),
            u: crate::math::rss(a.combined(), b.combined()),
        }
    }

    /// The uncertainty of `load`, by its parts.
    #[must_use]
    pub fn budget(&self, load: &SteadyLoad) -> Budget {
        let scale = self.calibration.mg_per_count().abs();
        let mass = self.calibration.mass(load.level(), load.zero.level).abs();
        Budget {
            resolution: 0.3,
            noise: crate::math::rss(load.se(), load.zero.se) * scale,
            flicker: load.flicker * scale,
            creep: 3e-4 * mass,
            hysteresis: 1e-4 * mass,
            linearity: 1e-4 * mass,
            span: self.calibration.u_span() * mass,
            temperature: if load.zero.proven {
                5.0
            } else {
                2e-4 * self.capacity.0 as f32
            },
            bowl: 0.0,
        }
    }

    fn fail(&mut self, condition: Condition) -> Option<ScaleEvent> {
        self.condition = condition;
        self.estimator.interrupt();
        self.reading = None;
        self.shown = None;
        self.lift()
    }

    fn weigh(&mut self, now: Instant) -> Option<ScaleEvent> {
        let reading = self.reading?;
        let gross = self.calibration.mass(reading.level, self.zero.now().level);
        let full = self.capacity.0 as f32;
        self.condition = if gross > full + 9.0 * DIVISION {
            Condition::Overload
        } else if gross < -REVERSED * full {
            Condition::Reversed
        } else if gross < -20.0 * DIVISION {
            Condition::Underload
        } else {
            Condition::Weighing
        };
        self.heaviest = self.heaviest.max(gross.abs());
        let Some(level) = reading.steady.filter(|_| self.condition == Condition::Weighing) else {
            let event = self.lift();
            self.show();
            return event;
        };
        let was_steady = self.steady.is_some();
        if self.zero.accepts(gross, self.heaviest, full, now) && (!self.zero.is_empty() || was_steady) {
            let was_empty = self.zero.is_empty();
            if !was_empty {
                self.before = Some(self.zero.now());
                self.zero.capture(level);
                self.emptied();
            }
            self.show();
            return (!was_empty).then_some(ScaleEvent::Emptied);
        }
        self.zero.load();
        let since = *self.since.get_or_insert(now);
        let load = SteadyLoad {
            level,
            flicker: self.estimator.noise().flicker(),
            zero: self.zero.now(),
            since,
        };
        self.steady = Some(load);
        self.show();
        (!was_steady).then_some(ScaleEvent::Settled(load))
    }

    fn emptied(&mut self) {
        self.heaviest = 0.0;
        self.since = None;
        self.steady = self.reading.and_then(|reading| reading.steady).map(|level| SteadyLoad {
            level,
            flicker: self.estimator.noise().flicker(),
            zero: self.zero.now(),
            since: level.at(),
        });
        self.shown = None;
        self.show();
    }

    fn lift(&mut self) -> Option<ScaleEvent> {
        self.steady.take().map(|_| ScaleEvent::Lifted)
    }

    fn show(&mut self) {
        let net = self.readout().net;
        self.shown = net.map(|net| match self.shown {
            Some(shown) => shown.follow(net.value),
            None => Indication::rounded(net.value, self.unit),
        });
    }

    fn less_tare(&self, gross: Measured) -> Measured {
        self.tare.map_or(gross, |bowl| gross.minus(bowl))
    }
}

/// Milligrams as the nearest whole number, halves away from zero.
fn rounded(value: f32) -> Milligrams {
    Milligrams((value + if value < 0.0 { -0.5 } else { 0.5 }) as i32)
}

/// The division of the scale, mg.
const DIVISION: f32 = 100.0;
/// Range of the zero press, of capacity.
const ZERO_RANGE: f32 = 0.04;
/// So far under zero no missing pan takes it, of capacity.
const REVERSED: f32 = 0.4;
