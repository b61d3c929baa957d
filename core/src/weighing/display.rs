//! From a mass to the number shown: quiet at rest, quick when it means something.
//!
//! Steady, the number follows the mass with a hysteresis (see [`indication`](super::indication)). Disturbed, it stays for 0.8 s, since
//! most disturbances are over by then and a reset of the converter always is; after that it follows what is there only if that is
//! clearly elsewhere: steps on the floor swing about the true mass and need not be shown, a cake being put down must be.

use crate::signal::Reading;
use crate::units::Milligrams;
use crate::weighing::indication::{DIVISION, Indication, Unit};
use crate::weighing::scale::rounded;

/// What the display stands at.
#[derive(Clone, Copy, Debug)]
pub(super) struct Display {
    unit: Unit,
    /// Gross, mg.
    value: Option<f32>,
    shown: Option<Indication>,
    /// Smoothed gross while disturbed, mg, and its mean swing.
    middle: f32,
    swing: f32,
    disturbed: bool,
    moved: bool,
    /// How far an empty pan's number has been led towards zero, mg.
    led: f32,
}

impl Display {
    /// Nothing yet, grams.
    #[must_use]
    pub(super) const fn new() -> Self {
        Self {
            unit: Unit::Gram,
            value: None,
            shown: None,
            middle: 0.0,
            swing: 0.0,
            disturbed: false,
            moved: false,
            led: 0.0,
        }
    }

    /// Chooses the unit.
    pub(super) fn set_unit(&mut self, unit: Unit) {
        if self.unit != unit {
            self.unit = unit;
            self.shown = None;
        }
    }

    /// The unit.
    #[must_use]
    pub(super) const fn unit(&self) -> Unit {
        self.unit
    }

    /// Forgets the number.
    pub(super) const fn clear(&mut self) {
        self.value = None;
        self.shown = None;
        self.disturbed = false;
    }

    /// A steady gross mass, mg.
    pub(super) const fn settle_at(&mut self, gross: f32) {
        self.value = Some(gross);
        self.disturbed = false;
        self.moved = true;
        self.led = 0.0;
    }

    /// A steady gross mass of the empty pan, mg. The number beside the steady sign was the change that was weighed, and should not be
    /// taken back by a division; nor should the next load's change be off by as much for what is still to go. So of up to 0.4 of a
    /// division all goes at the pace of zero tracking, of more as much, then half, and the rest far slower; of a way too long for that,
    /// all but three quarters of a division. Below zero the rest goes within some seconds, too.
    pub(super) fn slide_to(&mut self, gross: f32) {
        let from = self.value.unwrap_or(gross);
        let left = (gross - from).abs();
        let whole = self.led + left;
        let later = if whole < SHORT {
            (whole - SOON).min(0.5 * whole)
        } else {
            LEAVE
        };
        let pace = if left > later {
            PACE
        } else if from < 0.0 {
            BELOW
        } else {
            LATER
        };
        let step = (gross - from).clamp(-pace, pace);
        let led = self.led + step.abs();
        self.settle_at(from + step);
        self.led = led;
    }

    /// A disturbed gross mass, mg.
    pub(super) fn move_to(&mut self, gross: f32, reading: &Reading) {
        if !self.disturbed {
            self.middle = self.value.unwrap_or(gross);
            self.swing = 0.0;
        }
        self.disturbed = true;
        let apart = gross - self.middle;
        self.middle += QUICK * apart;
        self.swing += QUICK * (apart.abs() - self.swing);
        if reading.age >= CALM {
            self.middle = gross;
        }
        let Some(value) = self.value else {
            self.value = Some(gross);
            self.moved = true;
            return;
        };
        let clearly = (self.middle - value).abs() > CLEARLY.max(SWINGS * self.swing);
        if reading.lost_for > HELD && (clearly || reading.age >= CALM) {
            self.value = Some(self.middle);
            self.moved = true;
        }
    }

    /// Brings the number up to date for a net of the value less `tare`; `anew` without regard to what it was.
    pub(super) fn show(&mut self, tare: Milligrams, anew: bool) {
        let Some(value) = self.value else {
            self.shown = None;
            return;
        };
        let net = rounded(value) - tare;
        self.shown = match self.shown {
            Some(shown) if !anew => {
                if self.moved {
                    Some(shown.follow(net))
                } else {
                    Some(shown)
                }
            }
            _ => Some(Indication::rounded(net, self.unit)),
        };
        self.moved = false;
    }

    /// The gross mass that the number stands for, mg.
    #[must_use]
    pub(super) const fn value(&self) -> Option<f32> {
        self.value
    }

    /// The number.
    #[must_use]
    pub(super) const fn shown(&self) -> Option<Indication> {
        self.shown
    }
}

impl Default for Display {
    fn default() -> Self {
        Self::new()
    }
}

/// Half a division a second (OIML R 76-1, 4.5.7), mg a tick.
const PACE: f32 = 0.05 * DIVISION;
/// So much may go at that pace, mg;
const SOON: f32 = 0.4 * DIVISION;
/// a way that is halved at most is shorter than this, mg;
const SHORT: f32 = 1.8 * DIVISION;
/// of a longer one this is left for later, mg;
const LEAVE: f32 = 0.75 * DIVISION;
/// which goes at this pace, mg a tick.
const LATER: f32 = 0.0005 * DIVISION;
/// or at this from below zero, where no number is to stand for long, mg a tick.
const BELOW: f32 = 0.008 * DIVISION;
/// Ticks for which the number stays after a disturbance.
const HELD: u16 = 8;
/// Share of a new value in the smoothed one.
const QUICK: f32 = 0.3;
/// A mass is clearly elsewhere beyond this, mg,
const CLEARLY: f32 = 2.5 * DIVISION;
/// and beyond so many mean swings.
const SWINGS: f32 = 2.0;
/// Ticks without a jump after which a level is shown though not yet trusted.
const CALM: usize = 12;
