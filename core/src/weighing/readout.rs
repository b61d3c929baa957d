//! What the scale tells the rest of the program.

use crate::measured::Measured;
use crate::signal::SensorFault;
use crate::units::Milligrams;
use crate::weighing::indication::{DIVISION, Indication};
use crate::weighing::load::SteadyLoad;
use crate::weighing::scale::{Scale, rounded};
use crate::weighing::zero::PanState;

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
    /// The bowl that was taken off is bare again: earlier loads may be amended now.
    BowlBare(SteadyLoad),
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
}

impl Scale {
    /// What the scale says now.
    #[must_use]
    pub fn readout(&self) -> Readout {
        let gross = self.gross_shown().map(|value| Measured {
            value,
            u: self.steady.map_or(DIVISION, |load| self.budget(&load).combined()),
        });
        Readout {
            gross,
            net: gross.map(|gross| self.tare.map_or(gross, |bowl| gross.minus(bowl))),
            shown: self.shown(),
            steady: self.steady(),
            condition: self.condition,
            zero_proven: self.zero.now().proven,
            empty: self.is_empty(),
        }
    }

    /// Everything on the pan as the number stands, without its uncertainty, which takes much longer to say.
    #[must_use]
    pub fn gross_shown(&self) -> Option<Milligrams> {
        self.number().map(rounded)
    }

    /// What lies on the pan by the last sample, without the patience of the number that is shown.
    #[must_use]
    pub fn gross_now(&self) -> Option<Milligrams> {
        self.gross.map(rounded)
    }

    /// The number of the display, if there can be one.
    #[must_use]
    pub fn shown(&self) -> Option<Indication> {
        self.number().and(self.display.shown())
    }

    /// The gross mass that the display stands at, mg. One that is smoothed may still lie where no number is allowed.
    fn number(&self) -> Option<f32> {
        let allowed = |value: &f32| self.condition == Condition::Weighing && self.judge(*value) == Condition::Weighing;
        self.display.value().filter(allowed)
    }

    /// The load, if it is steady and the newest word does not contradict it: a mark pressed as the hand goes must not take what the
    /// hand still held down a moment ago.
    #[must_use]
    #[inline(never)]
    pub const fn steady(&self) -> Option<SteadyLoad> {
        if self.estimator.is_contradicted() {
            None
        } else {
            self.steady
        }
    }

    /// The steady load, once it has stood for a second: what a mark may take. A tick that is younger is not what a press answers to:
    /// that was made on trust. A hand that only paused has moved on by then, and the weight rests on twice as many samples.
    #[must_use]
    pub fn stood(&self) -> Option<SteadyLoad> {
        let stands = self.estimator.reading().is_some_and(|reading| reading.age >= STOOD);
        self.steady().filter(|_| stands)
    }

    /// Whether there can be a number at all.
    #[must_use]
    pub const fn condition(&self) -> Condition {
        self.condition
    }

    /// Whether the pan is known to be empty.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.zero.is_empty()
    }

    /// Whether what is shown may be the empty pan of a cell whose zero has moved, or something small: a press of ZERO says which.
    #[must_use]
    pub const fn is_perhaps_empty(&self) -> bool {
        matches!(self.zero.state(), PanState::Perhaps)
    }

    /// This unit's noise, one tenth of a second, mg.
    #[must_use]
    pub fn noise(&self) -> f32 {
        self.estimator.noise().sigma() * self.calibration.mg_per_count().abs()
    }

    /// How the level moves while steady, mg a minute.
    #[must_use]
    pub fn drift(&self) -> f32 {
        self.estimator.drift() * self.calibration.mg_per_count()
    }
}

/// Ticks since the last jump, a tenth of a second each. The sign may come after five of them; nobody sees it and presses within half a
/// second (common practice, no source).
const STOOD: usize = 10;
