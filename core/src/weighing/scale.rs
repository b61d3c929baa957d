//! The whole scale: samples in, grams out.

use crate::converter::{ConverterFault, RawSample, SampleRate};
use crate::math::round;
use crate::measured::Measured;
use crate::signal::{Check, Estimator, Reading, SensorFault, SteadyLevel, Thresholds};
use crate::units::{Duration, FineCounts, Instant, Milligrams};
use crate::weighing::budget::Budget;
use crate::weighing::calibration::Calibration;
use crate::weighing::conditions::Conditions;
use crate::weighing::creep::Creep;
use crate::weighing::display::Display;
use crate::weighing::fine::CalibrationLevel;
use crate::weighing::indication::DIVISION;
use crate::weighing::load::{SteadyLoad, ZeroPoint};
use crate::weighing::readout::{Condition, ScaleEvent};
use crate::weighing::restless::{Lying, Restless, Wandering};
use crate::weighing::zero::{PanState, Zero};

/// A scale: check, estimator, calibration, zero, creep, tare, indication.
#[derive(Clone, Debug)]
pub struct Scale {
    pub(super) calibration: Calibration,
    pub(super) capacity: Milligrams,
    /// Above is too much, below upside down, mg; kept, since every number is held against them.
    highest: f32,
    lowest: f32,
    check: Check,
    pub(super) estimator: Estimator,
    pub(super) zero: Zero,
    pub(super) creep: Creep,
    pub(super) restless: Restless,
    pub(super) amplifier: Restless,
    pub(super) steps: Restless,
    pub(super) wandering: Wandering,
    pub(super) lying: Lying,
    pub(super) tare: Option<Measured>,
    pub(super) display: Display,
    pub(super) condition: Condition,
    doubtful: u8,
    patience: u8,
    pub(super) at: Option<Instant>,
    pub(super) on_since: Instant,
    pub(super) fine: CalibrationLevel,
    pub(super) steady: Option<SteadyLoad>,
    pub(super) since: Option<Instant>,
    pub(super) heaviest: f32,
    /// The last steady gross mass, mg.
    pub(super) before: f32,
    /// What the steady level says of the pan is not known yet.
    pub(super) undecided: bool,
    /// The bare bowl, as it was last.
    pub(super) base: Option<SteadyLoad>,
    /// The last gross mass, steady or not, mg.
    pub(super) gross: Option<f32>,
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
        let zero = stored_zero.unwrap_or(calibration.zero());
        let mut estimator = Estimator::new(rate, DIVISION / calibration.mg_per_count());
        estimator.expect(zero);
        Self {
            calibration,
            capacity,
            highest: capacity.0 as f32 + OVER_DIVISIONS * DIVISION,
            lowest: -REVERSED * capacity.0 as f32,
            check: Check::new(rate),
            estimator,
            zero: Zero::stored(zero),
            creep: Creep::new(),
            restless: Restless::cell(),
            amplifier: Restless::amplifier(),
            steps: Restless::steps(),
            wandering: Wandering::default(),
            lying: Lying::default(),
            tare: None,
            display: Display::new(),
            condition: Condition::Starting,
            doubtful: 0,
            patience: patience(rate),
            at: None,
            on_since: Instant(0),
            fine: CalibrationLevel::new(),
            steady: None,
            since: None,
            heaviest: 0.0,
            before: 0.0,
            undecided: false,
            base: None,
            gross: None,
        }
    }

    /// Conversions come at `rate`. If they came at another until now, what was learnt of the level and its noise is void.
    pub fn run_at(&mut self, rate: SampleRate) {
        if rate == self.estimator.rate() {
            return;
        }
        self.check = Check::new(rate);
        self.estimator = Estimator::new(rate, DIVISION / self.calibration.mg_per_count());
        self.estimator.expect(self.zero.now().level);
        self.patience = patience(rate);
    }

    /// Makes the steady sign surer or quicker than it is by default.
    pub const fn set_thresholds(&mut self, thresholds: Thresholds) {
        self.estimator.set_thresholds(thresholds);
    }

    /// Takes what the converter gave at `now` and says what it changed.
    #[inline(never)]
    pub fn sample(&mut self, now: Instant, raw: Result<RawSample, ConverterFault>) -> Option<ScaleEvent> {
        match self.check.judge(now, raw) {
            Ok(sample) => {
                self.doubtful = 0;
                let reading = self.estimator.take(sample)?;
                self.fine.take(&reading, self.calibration.mg_per_count());
                if !reading.fresh && reading.steady.is_some() == self.steady.is_some() {
                    return None;
                }
                self.weigh(&reading, now)
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

    /// The level to calibrate by, whatever it means; for a moment longer than it is there, so that a press on sight of the tick does not
    /// come too late.
    #[must_use]
    pub fn level(&self) -> Option<FineCounts> {
        self.fine.level(self.at)
    }

    /// The lowest and the highest level since [`Self::sweep_anew`]: a hand that has pressed leaves a cell on another branch of its
    /// hysteresis than the load alone.
    #[must_use]
    pub const fn extremes(&self) -> (FineCounts, FineCounts) {
        self.fine.extremes()
    }

    /// Looks anew for the lowest and the highest level.
    pub const fn sweep_anew(&mut self) {
        self.fine.sweep_anew();
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

    /// What the uncertainty budget needs to know of this scale.
    #[must_use]
    pub fn conditions(&self) -> Conditions {
        Conditions {
            on_since: self.on_since,
            restless: self.restless.allowance(),
            wandering: self.amplifier.allowance(),
            steps: self.steps.bare(),
            ..Conditions::of(&self.calibration, self.capacity)
        }
    }

    /// The uncertainty of `load`, by its parts.
    #[must_use]
    pub fn budget(&self, load: &SteadyLoad) -> Budget {
        let creep = self.creep.u(load.strain - load.zero.strain);
        Budget::reading(load, self.mass(load, &load.zero), creep, &self.conditions())
    }

    /// Mass of `load` above `zero`, less what creep has added, mg.
    pub(super) fn mass(&self, load: &SteadyLoad, zero: &ZeroPoint) -> f32 {
        self.calibration.mass(load.level(), zero.level) - self.creep.error(load.strain - zero.strain)
    }

    fn fail(&mut self, condition: Condition) -> Option<ScaleEvent> {
        self.condition = condition;
        self.estimator.interrupt();
        self.fine.forget();
        self.gross = None;
        self.display.clear();
        self.lift()
    }

    #[inline(never)]
    fn weigh(&mut self, reading: &Reading, now: Instant) -> Option<ScaleEvent> {
        let zero = self.zero.now();
        let raw = self.calibration.mass(reading.level, zero.level);
        let gross = raw - self.creep.error(self.creep.strain() - zero.strain);
        self.gross = Some(gross);
        self.condition = self.judge(gross);
        let span = self
            .at
            .map_or(Duration(0), |before| now.since(before).min(LONGEST_STEP));
        self.at = Some(now);
        if self.condition != Condition::Overload {
            self.creep.pass(gross.max(0.0), span);
        }
        let Some(level) = reading.steady.filter(|_| self.condition == Condition::Weighing) else {
            self.display.move_to(gross, reading);
            self.show(false);
            return self.lift();
        };
        if self.steady.is_some() && self.zero.is_empty() {
            self.display.slide_to(gross);
        } else {
            self.display.settle_at(gross);
        }
        let event = self.settle(level, gross, reading.age, now);
        self.show(false);
        event
    }

    /// What a steady level means: still the same, a new load, or the empty pan.
    #[inline(never)]
    fn settle(&mut self, level: SteadyLevel, gross: f32, age: usize, now: Instant) -> Option<ScaleEvent> {
        let is_new = self.steady.is_none();
        if is_new {
            let nothing_came = self.zero.now().proven && gross.abs() < LEAST_THING && self.heaviest < LEAST_THING;
            if nothing_came {
                self.wandering.jumped();
            } else {
                self.wandering.interrupt();
            }
        }
        self.learn_wandering(level);
        let was_empty = self.zero.is_empty();
        let mut bared = false;
        let still = was_empty && Zero::still(gross, self.level_noise(level));
        let state = if still {
            Some(PanState::Empty)
        } else {
            self.pan_state(level, gross, age, now)
        };
        match state {
            _ if still => {
                self.track(level, gross, now);
            }
            Some(PanState::Empty) => {
                let was_proven = self.zero.now().proven;
                let doubt = self.doubt(level, gross, now);
                self.empty(level, doubt);
                // From an empty pan on it has stood below zero for five seconds.
                if was_proven && !was_empty && gross > -FALLEN {
                    // The number comes to zero no faster than zero tracking may move it; unless it has been far below.
                    self.display.settle_at(gross);
                    self.show(false);
                }
                return Some(ScaleEvent::Emptied);
            }
            Some(PanState::Perhaps) => self.zero.may_be(level.level(), gross),
            Some(PanState::Loaded) => {
                if was_empty {
                    self.learn_drift();
                }
                self.zero.load();
                self.heaviest = self.heaviest.max(gross);
                if is_new {
                    bared = self.is_bowl_bare(level, gross, now);
                } else {
                    self.follow_bare_bowl(level, gross, now);
                }
            }
            // A first level that has not stood yet is no level.
            None if !self.zero.now().proven => return None,
            None => {}
        }
        self.undecided = state.is_none();
        if !self.undecided {
            self.before = gross;
        }
        let load = self.load(level, now);
        self.steady = Some(load);
        match (is_new, bared) {
            (true, true) => Some(ScaleEvent::BowlBare(load)),
            (true, false) => Some(ScaleEvent::Settled(load)),
            (false, _) => None,
        }
    }

    pub(super) fn load(&mut self, level: SteadyLevel, now: Instant) -> SteadyLoad {
        let since = if self.zero.is_empty() {
            now
        } else {
            *self.since.get_or_insert(now)
        };
        SteadyLoad {
            level,
            noise: self.estimator.noise().sigma(),
            zero: self.zero.now(),
            since,
            strain: self.creep.strain(),
        }
    }

    pub(super) fn judge(&self, gross: f32) -> Condition {
        if gross > self.highest {
            Condition::Overload
        } else if gross < self.lowest {
            Condition::Reversed
        } else if gross < -UNDER_DIVISIONS * DIVISION {
            Condition::Underload
        } else {
            Condition::Weighing
        }
    }

    fn lift(&mut self) -> Option<ScaleEvent> {
        self.steady.take().map(|_| ScaleEvent::Lifted)
    }

    pub(super) fn show(&mut self, anew: bool) {
        let tare = self.tare.map_or(Milligrams::ZERO, |bowl| bowl.value);
        self.display.show(tare, anew);
    }
}

/// Doubtful words in a row that mean something.
const fn patience(rate: SampleRate) -> u8 {
    match rate {
        SampleRate::Ten => 3,
        SampleRate::Eighty => 12,
    }
}

/// Milligrams as the nearest whole number, halves away from zero.
pub(super) fn rounded(value: f32) -> Milligrams {
    Milligrams(round(value))
}

/// No number beyond capacity and so many divisions (OIML R 76-1, 4.2.3).
const OVER_DIVISIONS: f32 = 9.0;
/// Nor below zero by more than so many (OIML R 76-1, 4.2.3).
const UNDER_DIVISIONS: f32 = 20.0;
/// So far under zero no missing pan takes it, of capacity.
const REVERSED: f32 = 0.4;
/// What people put on a pan weighs more, mg.
const LEAST_THING: f32 = 110.0;
/// So far below zero no number is left to go by itself, mg: two divisions.
const FALLEN: f32 = 2.0 * DIVISION;
/// Longest time that creep is followed in one step.
const LONGEST_STEP: Duration = Duration(1_000);
